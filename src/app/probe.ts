/**
 * `window.railwright`: what the browser tests ask of the running page. It only reads.
 * Lengths mm, angles radians, page positions CSS px.
 */
import { heldRun, sectionAt, stationAt } from '../../geometry/rail/query';
import { stopsOf } from '../../geometry/rail/laid';
import { isBusy, jobNow, madeOf, useJobs } from '../state/jobs';
import { paintedPlan } from '../state/draft';
import { planNow } from '../state/plan';
import { bevelScale, type BevelScale } from '../say/ramp';
import { useView } from '../state/view';
import { onPage } from '../stage/onPage';

export interface PageState {
  readonly board: string;
  /** Where the station cursor is along the rail, and its station. */
  readonly s: number;
  readonly x: number;
  readonly length: number;
  readonly run: number;
  readonly rows: number;
  /** Of the stops: runs, and stations. */
  readonly stops: readonly number[];
  readonly stations: readonly number[];
  readonly bevel: { readonly min: number; readonly max: number };
  readonly scale: BevelScale;
  /** Time of the last planBoard call, and whether another is under way. */
  readonly planMs: number;
  readonly busy: boolean;
  /** What is being worked out on other threads. */
  readonly working: readonly string[];
  /** Whether the parts of this very plan are made. */
  readonly parts: boolean;
}

export interface CapPlace {
  /** Middle of the cap's top at a place along the rail, on the page, and the kernel's bevel there. */
  readonly x: number;
  readonly y: number;
  readonly bevel: number;
}

interface Probe {
  /** Null before the first plan. */
  state(): PageState | null;
  /** Where the starboard cap's top shows on the page at run s; null while there is no stage. */
  capAt(s: number): CapPlace | null;
  /** Page position of a point of the board, kernel frame; null while there is no stage. */
  onPage(x: number, y: number, z: number): { readonly x: number; readonly y: number } | null;
}

declare global {
  interface Window {
    railwright?: Probe;
  }
}

const probe: Probe = {
  state() {
    const { result, status } = jobNow('plan');
    if (!result) return null;
    // What is painted: the draft while a hand drags.
    const plan = paintedPlan(result.plan);
    const s = heldRun(plan, useView.getState().s);
    const { min, max } = plan.rail.range.bevel;
    return {
      board: plan.design.name, s, x: stationAt(plan, s), length: plan.hull.length, run: plan.rail.face.length,
      rows: plan.rail.rows.length, stops: stopsOf(plan.rail).map(({ s: at }) => at), stations: stopsOf(plan.rail).map(({ x }) => x),
      bevel: { min, max }, scale: bevelScale(plan), planMs: result.ms, busy: isBusy({ status }), working: Object.entries(useJobs.getState()).filter(([, job]) => isBusy(job)).map(([key]) => key),
      parts: madeOf(jobNow('parts'), plan) !== null,
    };
  },
  capAt(s) {
    const plan = paintedPlan(planNow());
    if (!plan) return null;
    const c = sectionAt(plan, s);
    const outer = Math.max(c.capBottom, Math.min(c.capTop, c.deckFace));
    const place = onPage((c.ribX + c.x) / 2, (c.ribY + c.y) / 2, (c.capTop + outer) / 2);
    return place && { ...place, bevel: c.bevel };
  },
  onPage,
};

/** Hangs the probe on the window. */
export function setProbe(): void {
  window.railwright = probe;
}
