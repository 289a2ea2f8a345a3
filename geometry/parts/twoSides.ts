/** The order of work where the two sides of a board were not measured alike: each figure told for the side whose it is. */
import { list, said, type Said } from '../said';
import type { Side } from '../types';
import type { BuiltSide, WorkStep } from './types';

type Check = WorkStep['checks'][number];

/** Port's own rail, and which sides were measured. */
export interface PortSide extends BuiltSide {
  readonly measured: readonly Side[];
}

/** Steps as one side has them: those of the whole board before the box, the box's own with the other side's last, and those after. */
export interface StepsOfSide<T> {
  readonly frames: readonly T[];
  readonly box: readonly T[];
  readonly finish: readonly T[];
}

/** A figure that differs by less between the sides is told once, mm or radians: a caliper or a bevel gauge shows no finer. */
const TOLD_APART: Readonly<Record<Check['unit'], number>> = { mm: 0.05, rad: 0.0009 };

const SIDE_WORDS: Readonly<Record<Side, string>> = { starboard: 'Starboard', port: 'Port' };
const ownOf = (side: Side, check: Check): Check => ({ ...check, what: said('{side}: {what}', { side: SIDE_WORDS[side], what: check.what }) });

/** The same measure among another side's: by its words, and its place too where they come more than once. */
function twin(check: Check, among: readonly Check[]): Check | undefined {
  const words = JSON.stringify(check.what);
  const named = among.filter(({ what }) => JSON.stringify(what) === words);
  return named.find(({ place }) => place?.x === check.place?.x) ?? (named.length === 1 ? named[0] : undefined);
}

const alike = (a: Check, b: Check): boolean => Math.abs(a.value - b.value) < TOLD_APART[a.unit];

/** A step of both sides: a figure once where they agree, else a side each. */
function together<T extends { readonly checks: readonly Check[] }>(own: T, there: readonly Check[]): T {
  return {
    ...own,
    checks: [
      ...own.checks.flatMap((check) => {
        const other = twin(check, there);
        return other === undefined || alike(check, other) ? [check] : [ownOf('starboard', check), ownOf('port', other)];
      }),
      ...there.filter((check) => twin(check, own.checks) === undefined).map((check) => ownOf('port', check)),
    ],
  };
}

/** What is said of a side that was not measured. */
function heard(measured: readonly Side[]): Said {
  const silent = (['starboard', 'port'] as const).find((side) => !measured.includes(side));
  return silent === undefined ? 'Both sides were measured: port\'s own figures, where they differ, are below.'
    : said('{side} was not measured: its figures are as drawn.', { side: SIDE_WORDS[silent] });
}

/**
 * The steps of two sides as one order of work. Steps of the whole board tell a figure once where the sides agree; the box's
 * are starboard's, and the step of the other side, which is the last of them, adds every figure of port's box that differs.
 */
export function twoSided<T extends { readonly title: string; readonly text: Said; readonly checks: readonly Check[] }>(
  starboard: StepsOfSide<T>, port: StepsOfSide<T>, measured: readonly Side[],
): StepsOfSide<T> {
  const whole = (own: readonly T[], there: readonly T[]) => own.map((step) => together(step, there.find(({ title }) => title === step.title)?.checks ?? []));
  const boxOf = ({ box }: StepsOfSide<T>) => box.slice(0, -1).flatMap(({ checks }) => checks);
  const differs = boxOf(port).filter((check) => {
    const other = twin(check, boxOf(starboard));
    return other === undefined || !alike(check, other);
  });
  const last = starboard.box.length - 1;
  return {
    frames: whole(starboard.frames, port.frames), finish: whole(starboard.finish, port.finish),
    box: starboard.box.map((step, i) => (i === last
      ? { ...step, text: list([step.text, heard(measured)]), checks: [...step.checks, ...differs.map((check) => ownOf('port', check))] } : step)),
  };
}
