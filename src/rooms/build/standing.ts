/** From the order of work to what is on the stage at a step. */
import type { WorkStep } from '../../../geometry/parts/types';
import type { PartKind } from '../../../geometry/types';
import { textOf } from '../../say/said';
import type { Standing } from '../../state/build';

const BOX: readonly PartKind[] = ['sole', 'cap', 'row'];

/** What is there once step number `at` (from 0) is done. */
export function standingAt(steps: readonly WorkStep[], at: number): Standing {
  const step = steps[at];
  const before = steps[at - 1];
  const news = step.places.filter((kind) => !before?.places.includes(kind));
  const turned = step.port && before?.port === false;
  return {
    step: step.index, places: step.places, clamps: step.clamps,
    fresh: turned ? [...news, ...BOX.filter((kind) => step.places.includes(kind))] : news,
    box: step.port ? 'both' : 'starboard',
    arrives: turned ? 'port' : step.port ? 'both' : 'starboard',
    bevels: step.checks.some(({ unit }) => unit === 'rad'),
  };
}

const NAMES: Readonly<Record<PartKind, string>> = {
  'bottom-skin': 'bottom skin', 'deck-skin': 'deck skin', round: 'rail round', rib: 'ribs', stringer: 'stringer', sole: 'sole',
  row: 'spacer rows', cap: 'cap', hollow: 'hollow', 'outer-skin': 'outer skins', block: 'blocks', fitting: 'vent and fittings',
};

/** What each check of a step is ticked off by: its words, numbered where they come more than once. */
export function checkIds({ id, checks }: WorkStep): string[] {
  const seen = new Map<string, number>();
  return checks.map(({ what }) => {
    const words = `${id}: ${textOf(what, 'mm')}`.slice(0, 150);
    const nth = (seen.get(words) ?? 0) + 1;
    seen.set(words, nth);
    return nth === 1 ? words : `${words} ${nth}`;
  });
}

/** What is added or shaped, as a sentence; empty where nothing is. */
export function addedText({ fresh, arrives }: Standing): string {
  if (fresh.length === 0) return '';
  const names = fresh.map((kind) => NAMES[kind]).join(', ');
  const what = fresh.some((kind) => BOX.includes(kind)) ? `${names}, ${arrives === 'both' ? 'both sides' : arrives}` : names;
  return fresh.includes('round') ? `Shaped now: ${what}.` : `Added now: ${what}.`;
}
