/** Findings numbered, in order, and gathered to what there is to decide. */
import type { Design } from '../design/schema';
import type { Finding, FindingLevel } from '../types';

/** A finding before it is numbered. */
export type FindingDraft = Omit<Finding, 'id'>;

/** Number findings within each code, so that ids stay stable while figures move. */
export function numbered(drafts: readonly FindingDraft[]): Finding[] {
  const seen = new Map<string, number>();
  return drafts.map((d) => {
    const n = (seen.get(d.code) ?? 0) + 1;
    seen.set(d.code, n);
    return { ...d, id: `${d.code}-${n}` };
  });
}

const RANK: Readonly<Record<FindingLevel, number>> = { cannot: 0, check: 1, note: 2 };

/** Findings in the order they are listed: worst first, then from tail to nose. */
export function worstFirst<T extends Pick<Finding, 'level' | 'place'>>(findings: readonly T[]): T[] {
  return [...findings].sort((a, b) => RANK[a.level] - RANK[b.level] || (a.place?.x ?? 0) - (b.place?.x ?? 0));
}

/** Codes that say what they say of one end of the board: their cause at the other end is another. */
const OF_ONE_END: ReadonlySet<string> = new Set(['will-not-bend', 'last-bay', 'closed', 'no-room', 'end-block', 'skins-run-on', 'ring-wide', 'stop-bend']);

/** What causes a finding: findings with one cause are one decision. `length` is the board's, mm. */
export function causeOf({ code, strip, place }: Pick<Finding, 'code' | 'strip' | 'place'>, length: number): string {
  const end = place && OF_ONE_END.has(code) ? [place.x < length / 2 ? 'tail' : 'nose'] : [];
  return [code, ...(strip ? [strip.kind] : []), ...end].join('.');
}

/** Findings as they are told: numbered, those whose cause the maker settles at the bench as notes, worst first. */
export function told(drafts: readonly FindingDraft[], { settled = [] }: Design, length: number): Finding[] {
  return worstFirst(numbered(drafts).map((f): Finding => (f.level === 'check' && settled.includes(causeOf(f, length)) ? { ...f, level: 'note', settled: true } : f)));
}

/** Something to decide: a cause, and its findings, worst first. */
export interface Decision {
  readonly cause: string;
  readonly findings: readonly [Finding, ...Finding[]];
}

/** What there is to decide, worst first: every cause with a finding that can't be built or wants a check. */
export function decisionsOf(findings: readonly Finding[], length: number): Decision[] {
  const byCause = new Map<string, [Finding, ...Finding[]]>();
  const over = ({ figure, limit }: Finding) => (figure === undefined || limit === undefined ? 0 : Math.abs(figure - limit));
  for (const finding of findings) {
    if (finding.level === 'note') continue;
    const cause = causeOf(finding, length);
    const mine = byCause.get(cause);
    if (mine) mine.push(finding);
    else byCause.set(cause, [finding]);
  }
  return [...byCause].map(([cause, [first, ...rest]]): Decision => {
    const [worst = first, ...others] = [first, ...rest].sort((a, b) => RANK[a.level] - RANK[b.level] || over(b) - over(a));
    return { cause, findings: [worst, ...others] };
  });
}

/** All findings of a plan as one list, worst first: its own and, where they are made, those of its `parts`. */
export function allFindings(plan: { readonly findings: readonly Finding[] }, parts: { readonly findings: readonly Finding[] } | null): Finding[] {
  return worstFirst([...plan.findings, ...(parts?.findings ?? [])]);
}
