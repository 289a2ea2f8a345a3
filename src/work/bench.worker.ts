/** Makes parts and papers off the main thread. The solver blocks its thread, so a job is stopped by ending it. */
import boldFont from '@expo-google-fonts/noto-sans/700Bold/NotoSans_700Bold.ttf?url';
import regularFont from '@expo-google-fonts/noto-sans/400Regular/NotoSans_400Regular.ttf?url';
import { whatOf } from '../../geometry/errors';
import { planParts } from '../../geometry/planParts';
import { planTolerance } from '../../geometry/trust/tolerance';
import { builtSides, listPapers, makePapers } from '../papers';
import type { PaperFault, Given } from '../state/jobKinds';
import { serve } from './serve';

const SIDES = ['starboard', 'port'] as const;

const STAGES = {
  bending: 'Bending', lies: 'Between the ribs', blanks: 'Skin blanks', frames: 'Ribs and stringer', fittings: 'Vent and fittings', jigs: 'Templates and supports', joints: 'Joints and cutting', milling: 'Milling', skins: 'Deck and bottom skin', totals: 'Totals', steps: 'Order of work', done: 'Done',
} as const;

/** The bands that go onto the papers: those the page has, or those of the quick estimate. */
const trustOf = async ({ plan, trust }: Given<'paperList'>) => ({ ...trust, bands: trust?.bands ?? (await planTolerance(plan, { method: 'estimate' })) });

/** A file of the page's own. Rejects where it cannot be fetched. */
async function fetched(address: string): Promise<Uint8Array> {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

/** The open typeface, for what the standard fonts lack. */
const typefaces = async () => ({ regular: await fetched(regularFont), bold: await fetched(boldFont) });

serve({
  // The solver is loaded only when it is wanted; where it cannot, the joints are a finding and the rest is made.
  parts: ({ plan, built = {} }, tell) => planParts(plan, {
    built: builtSides(SIDES.flatMap((side) => (built[side] ? [{ side, built: built[side] }] : []))),
    onProgress: (stage, share) => tell({ share, title: STAGES[stage] }),
  }),
  paperList: async (given) => listPapers(given.plan, given.parts, { ...given, trust: await trustOf(given) }),
  pages: async ({ pdf }) => (await import('../papers/pdf/pages')).pagesOf(pdf),
  async papers(given, tell) {
    const faults: PaperFault[] = [];
    const papers = await makePapers(given.plan, given.parts, {
      ...given, trust: await trustOf(given), typefaces,
      onProgress: ({ done, total, title }) => tell({ share: done / total, title }),
      onFault: ({ title, error }) => faults.push({ title, message: whatOf(error) }),
    });
    if (given.zip === undefined) return { papers, faults };
    const { writeZip } = await import('../papers/zip');
    return { papers: [{ id: 'chosen', name: given.zip, path: given.zip, title: 'The papers chosen', mime: 'application/zip', bytes: writeZip(papers, given.date) }], faults };
  },
});
