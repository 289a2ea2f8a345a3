/** What must hold of every plan, whatever the board: each broken rule as one line. The project's own rules. */
import { loopArea } from '../../geometry/curves/polygon';
import { panelAt, panelProbe } from '../../geometry/hull/panel';
import { sectionAt, sectionDrawing } from '../../geometry/rail/query';
import type { Parts } from '../../geometry/parts/types';
import type { Plan } from '../../geometry/types';

/** Paths of numbers in plain data that are not finite, at most five. */
export function strangeNumbers(value: unknown, path = '', found: string[] = []): string[] {
  if (found.length >= 5) return found;
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) found.push(`${path} is ${value}`);
  } else if (ArrayBuffer.isView(value) && !(value instanceof DataView)) {
    const list = value as Float64Array;
    const at = list.findIndex((v) => !Number.isFinite(v));
    if (at >= 0) found.push(`${path}[${at}] is ${list[at]}`);
  } else if (Array.isArray(value)) {
    value.forEach((v, i) => strangeNumbers(v, `${path}[${i}]`, found));
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, v] of Object.entries(value)) strangeNumbers(v, `${path}.${key}`, found);
  }
  return found;
}

/** Gap and heights may miss by this, mm: rounding, and the normal's foot at 1e-6 mm. */
const NEAR = 1e-6;

/** Every broken rule of a plan; empty when all hold. */
export function faultsOf(plan: Plan): string[] {
  const { design, hull, rail } = plan;
  const { samples: a, rows } = rail;
  const faults = strangeNumbers({ hull, rail, findings: plan.findings });
  if (faults.length > 0) return faults;
  const check = (holds: boolean, what: () => string) => {
    if (!holds && faults.length < 8) faults.push(what());
  };
  const sizes = design.rail;

  check(hull.volume > 0 && hull.planArea > 0, () => `volume ${hull.volume}, plan area ${hull.planArea}`);
  check(rail.hollowVolume >= 0, () => `hollow volume ${rail.hollowVolume}`);
  check(Math.abs(a.s[a.n - 1] - rail.face.length) < NEAR && a.s[0] === 0, () => `samples from ${a.s[0]} to ${a.s[a.n - 1]} of ${rail.face.length}`);
  check(rail.boxFrom >= 0 && rail.boxFrom < rail.boxTo && rail.boxTo <= rail.face.length, () => `box from ${rail.boxFrom} to ${rail.boxTo}`);

  for (let i = 0; i < a.n; i++) {
    const at = () => `at run ${a.s[i].toFixed(3)}`;
    check(i === 0 || a.s[i] > a.s[i - 1], () => `run does not rise ${at()}`);
    check(a.y[i] > -1e-3, () => `box face beyond the centreline, ${a.y[i]} ${at()}`);
    check(Math.abs(a.planing[i] + a.capLeft[i] - sizes.capThickness) < NEAR, () => `planing ${a.planing[i]} and cap left ${a.capLeft[i]} do not make the cap ${at()}`);
    check(Math.abs(a.solePlaning[i] + a.soleLeft[i] - sizes.soleThickness) < NEAR, () => `sole planing and sole left do not make the sole ${at()}`);
    const perSole = Math.hypot(1, a.soleSlope[i]);
    const standing = a.rows[i] * sizes.spacerHeight;
    check(a.rows[i] === 0 || standing <= a.gap[i] + NEAR, () => `${a.rows[i]} rows of ${sizes.spacerHeight} overlap a gap of ${a.gap[i]} ${at()}`);
    check(a.rows[i] === 0 || a.soleTop[i] + standing * perSole <= a.capBottom[i] + NEAR, () => `rows reach into the cap ${at()}`);
    check(a.slot[i] >= 0 && a.hollowArea[i] >= 0, () => `slot ${a.slot[i]}, hollow ${a.hollowArea[i]} ${at()}`);
    check(a.rows[i] === 0 || Math.abs(a.slot[i] - (a.gap[i] - standing)) < NEAR, () => `slot ${a.slot[i]} is not gap less rows ${at()}`);
    check(rail.cap.s1 === rail.cap.s0 || a.s[i] < rail.cap.s0 || a.s[i] > rail.cap.s1 || a.gap[i] > -NEAR, () => `cap without a gap, ${a.gap[i]} ${at()}`);
    check(Math.abs(a.tx[i] ** 2 + a.ty[i] ** 2 - 1) < 1e-9, () => `tangent is no unit ${at()}`);
  }

  rows.forEach((row) => {
    check(row.nose.s > row.tail.s && row.length >= sizes.leastRow - NEAR && row.tabs.length > 0,
      () => `row ${row.row} from ${row.tail.s} to ${row.nose.s} over ${row.tabs.length} tabs`);
    for (const stop of [row.tail, row.nose]) {
      const fresh = sectionAt(plan, stop.s).gap;
      const need = row.row * sizes.spacerHeight + sizes.clearance;
      check(Math.abs(stop.need - need) < NEAR && Math.abs(fresh - stop.gap) < 1e-4, () => `row ${row.row} ${stop.end} stop holds gap ${stop.gap}, is ${fresh}`);
      check(fresh >= need - 1e-4, () => `row ${row.row} stops by ${stop.cause} at gap ${fresh}, needs ${need}`);
      // Over a crease or at a corner the gap jumps: then there must be no room just beyond.
      const beyond = () => sectionAt(plan, stop.s + (stop.end === 'tail' ? -1e-4 : 1e-4)).gap;
      check(stop.cause !== 'gap' || fresh < need + 1e-4 || beyond() < need + 1e-4, () => `row ${row.row} stops at gap ${fresh}, needs ${need}, has ${beyond()} beyond`);
    }
    check(row.row === 1 || rows.some((low) => low.row === row.row - 1 && low.tail.s <= row.tail.s + 1e-4 && low.nose.s >= row.nose.s - 1e-4),
      () => `row ${row.row} at ${row.tail.s} does not nest over row ${row.row - 1}`);
  });

  const { stretches } = rail;
  check(stretches.length > 0 && Math.abs(stretches[0].s0) < 1e-5 && Math.abs(stretches[stretches.length - 1].s1 - rail.face.length) < 1e-5, () => 'stretches do not cover the run');
  stretches.forEach((t, i) => check(i === 0 || Math.abs(t.s0 - stretches[i - 1].s1) < 1e-5, () => `stretches part at ${t.s0}`));
  for (const [name, part] of [['sole', rail.sole], ['cap', rail.cap]] as const) {
    check(part.s0 <= part.s1 && part.s0 >= rail.boxFrom - NEAR && part.s1 <= rail.boxTo + NEAR, () => `${name} from ${part.s0} to ${part.s1}`);
  }
  for (const end of [rail.ends.tail, rail.ends.nose]) {
    // Skins that butt lap the block by 30 mm and end past the sole, as sought in millimetre steps, before the board does.
    if (end?.skinsTo === undefined) continue;
    const [lap, past, beyond] = end.end === 'tail' ? [end.s - end.skinsTo, rail.sole.s0 - end.skinsTo, end.skinsTo] : [end.skinsTo - end.s, end.skinsTo - rail.sole.s1, rail.face.length - end.skinsTo];
    check(design.ends?.[end.end]?.skins === 'butted' && lap >= 30 - NEAR && past >= -NEAR && beyond >= 10 - NEAR, () => `skins land at ${end.skinsTo}, strips end at ${end.s}`);
  }
  const tabs = new Set(rail.ribs.filter((r) => r.gap > 0).map((r) => r.index));
  check(rows.every((r) => r.tabs.every((t) => tabs.has(t))), () => 'a row rests on a tab that is not there');

  // Port mirrors starboard: heights and slopes over mirrored places, each probe starting again.
  for (const rib of rail.ribs) {
    for (const panel of [hull.deck, hull.bottom]) {
      const p = panelAt(panel, rib.x, rib.ribY, panelProbe());
      const q = panelAt(panel, rib.x, -rib.ribY, panelProbe());
      check(p.z === q.z && p.zx === q.zx && p.zy === -q.zy, () => `port does not mirror starboard at rib ${rib.index + 1}`);
    }
  }

  // What the station card draws, at a few places.
  for (const share of [0, 0.013, 0.31, 0.62, 0.987, 1]) {
    const strange = strangeNumbers(sectionDrawing(plan, share * rail.face.length), 'card');
    check(strange.length === 0, () => `${strange[0]} at run ${share * rail.face.length}`);
  }
  return faults;
}

/** What must hold of parts: forces on a strip in balance, every bay between two supports, pieces cut once, air told, templates with an inside. */
export function partFaults(parts: Parts): string[] {
  const faults: string[] = [];
  for (const { strip, supports, bays, ends } of parts.lies) {
    const name = `${strip.kind} ${strip.stretch}`;
    const size = supports.reduce((sum, { force }) => sum + Math.abs(force), 0);
    const sum = supports.reduce((all, { force }) => all + force, 0);
    if (Math.abs(sum) > 1e-6 * size + 1e-9) faults.push(`forces on the ${name} leave ${sum} of ${size}`);
    if (bays.length !== supports.length - 1) faults.push(`${name}: ${bays.length} bays between ${supports.length} supports`);
    const far = bays.find(({ from, until, at }) => !((at.s ?? 0) >= (from.s ?? 0) - 1e-6 && (at.s ?? 0) <= (until.s ?? 0) + 1e-6));
    if (far) faults.push(`${name}: stands off most at ${far.at.s}, outside its bay`);
    if (ends.some(({ close, hold }) => !(close >= 0) || (hold && !(hold.shear >= 0)))) faults.push(`${name}: a negative force`);
  }
  const { skins, fittings, jigs } = parts;
  for (const { length } of skins?.panels.flatMap(({ pieces }) => pieces) ?? []) if (!(length > 0 && length <= (skins?.length ?? 0))) faults.push(`a piece ${length} of a plank ${skins?.length}`);
  if (skins && new Set(skins.planks.flatMap(({ pieces }) => pieces)).size !== skins.panels.flatMap(({ pieces }) => pieces).length) faults.push('a piece of a skin is cut twice or never');
  const { milling } = parts;
  for (const { volume: { whole, pieces, kerf, left } } of milling?.planks ?? []) if (!(Math.abs(pieces + kerf + left - whole) <= 1e-6 * whole && left >= 0)) faults.push(`a plank of ${whole} is milled into ${pieces}, ${kerf} and ${left}`);
  const ripped = milling?.planks.flatMap(({ slices }) => slices.flatMap(({ rips }) => rips.flatMap((rip) => rip.strips))) ?? [];
  const wanted = milling?.strips.filter(({ stockLength }) => parts.joints?.stockLengths[stockLength].ripped).length ?? 0;
  if (ripped.length !== wanted || new Set(ripped).size !== wanted) faults.push(`${wanted} strips to rip, ${ripped.length} ripped`);
  // What has no way to the vent is said.
  if (fittings && fittings.air.some(({ vented }) => !vented) !== parts.findings.some(({ code }) => code === 'no-air')) faults.push('bays shut in and findings disagree');
  for (const { id, shape } of [...(jigs?.rounds ?? []), ...(jigs?.supports ?? [])]) if (!(loopArea(shape.outline) > 0)) faults.push(`${id} turns the wrong way round or has no area`);
  const surplus = parts.steps.find(({ glue }) => glue && !(glue.area > 0 && glue.mix > 0));
  if (surplus) faults.push(`${surplus.title}: glue for ${surplus.glue?.area}`);
  return faults;
}
