/** How each strip bends: its strain along the rail against the limits of its timber, its zones, and advice. */
import { AsDrawn } from './AsDrawn';
import { allSpecies } from '../../../geometry/design/timber';
import { isHeated, stripName } from '../../../geometry/parts/stripWords';
import type { StripBending } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import { fixed, lengthText, lengthWithUnit, type Unit, unitSign } from '../../say/units';
import { limitText, BEND_TONES, bendText, radiusText, strainText, trialWords } from '../../say/bendWords';
import { LiesList } from './LiesList';
import { MethodChoices } from './MethodChoices';
import { leadTo, PlaceList, useCursor } from './places';
import type { PageProps } from './RailPages';
import './drawings.css';
import './bench.css';

const WIDTH = 520;
const HEIGHT = 64;
const POINTS = 260;
/** The chart ends at this many times the limit in wet heat: the methods beyond it go by figures of their own. */
const HEADROOM = 1.4;

interface ChartProps {
  readonly plan: Plan;
  readonly bent: StripBending;
}

/** Strain along the rail, from zero, with the limits; a click leads to its place. */
function StrainChart({ plan, bent }: ChartProps) {
  const at = useCursor(plan);
  const total = plan.rail.face.length;
  const peak = bent.zones.reduce((most, zone) => Math.max(most, zone.strain), 0);
  const top = bent.limits.wet * HEADROOM;
  const x = (s: number) => (s / total) * WIDTH;
  const y = (strain: number) => HEIGHT - (strain / top) * HEIGHT;
  const skip = Math.max(1, Math.floor(bent.s.length / POINTS));
  const points: string[] = [];
  bent.s.forEach((s, i) => {
    if (i % skip === 0 || i === bent.s.length - 1) points.push(`${x(s).toFixed(1)} ${y(bent.strain[i]).toFixed(1)}`);
  });
  return (
    // The zones' list under it leads to the same places by keyboard.
    // oxlint-disable-next-line jsx-a11y/click-events-have-key-events, jsx-a11y/no-noninteractive-element-interactions
    <svg
      className="strain" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" role="img"
      aria-label={`Strain of ${stripName(bent.strip)} along the rail: up to ${strainText(peak)}; ${limitText(bent.limits)}`}
      onClick={(event) => {
        const { left, width } = event.currentTarget.getBoundingClientRect();
        leadTo(Math.min(total, Math.max(0, ((event.clientX - left) / width) * total)));
      }}
    >
      {bent.zones.map((zone) => <rect key={zone.s0} className="zone" data-state={BEND_TONES[zone.method]} x={x(zone.s0)} width={x(zone.s1) - x(zone.s0)} height={HEIGHT} />)}
      <path className="limit" d={`M0 ${y(bent.limits.cold)}H${WIDTH}`} />
      {bent.limits.forced !== undefined && <path className="limit forced" d={`M0 ${y(bent.limits.forced)}H${WIDTH}`} />}
      <path className="limit wet" d={`M0 ${y(bent.limits.wet)}H${WIDTH}`} />
      <path className="curve" d={`M${points.join('L')}`} />
      <path className="cursor" d={`M${x(at)} 0V${HEIGHT}`} />
    </svg>
  );
}

function advice(bent: StripBending, unit: Unit): string {
  if (!bent.zones.some(({ method }) => method === 'block')) return '';
  const ways = [
    ...(bent.advice?.thickness === undefined ? [] : [`in layers no thicker than ${lengthWithUnit(bent.advice.thickness, unit)}`]),
    ...(bent.advice?.width === undefined ? [] : [`in strips no wider than ${lengthWithUnit(bent.advice.width, unit)}`]),
  ];
  return ways.length > 0 ? `It would bend ${ways.join(', or ')}; or ease the curve, or block there.` : 'Thinner would not help enough: ease the curve, or block there.';
}

export function BendingPage({ plan, parts, unit }: PageProps) {
  const { timber } = plan.design;
  const species = allSpecies(plan.design);
  const nameOf = (bent: StripBending) => {
    const id = bent.strip.kind === 'outer-skin' ? timber.outer : timber.rail;
    return species.find((one) => one.id === id)?.name ?? id;
  };
  if (parts.bending.length === 0) return <p className="hint">No bending could be worked out: see the findings.</p>;
  return (
    <>
      <AsDrawn plan={plan} />
      <MethodChoices plan={plan} />
      {plan.design.trials && <p className="advice">{trialWords(plan.design, unit)}</p>}
      <p className="hint">Strain along the rail, drawn from zero, with the limits of the timber: from below: cold, forced, wet heat. The drawing stops at {HEADROOM} times the last. Limits are advice, not a promise: bend a trial strip first. Lengths in {unitSign(unit)}.</p>
      {parts.bending.map((bent) => (
        <section key={stripName(bent.strip)} aria-label={`Bending of ${stripName(bent.strip)}`}>
          <h4>{stripName(bent.strip)} <small>{lengthText(bent.width, unit)} × {lengthWithUnit(bent.thickness, unit)}, {nameOf(bent)}: {limitText(bent.limits)}</small></h4>
          <StrainChart plan={plan} bent={bent} />
          <PlaceList
            plan={plan} label={`Zones of ${stripName(bent.strip)}`}
            columns={[
              { title: 'method', words: true }, { title: 'along rail', hint: 'Along the rail from the tail' }, { title: 'to' }, { title: 'wrap', hint: 'Length of strip to wrap for wet heat' },
              { title: 'least radius' }, { title: 'strain', hint: 'Greatest in the zone, of the whole strip' }, { title: 'R / t', hint: 'Radius over thickness, at that strain' },
            ]}
            lines={bent.zones.map((zone) => ({
              key: String(zone.s0), tone: BEND_TONES[zone.method], spot: { s: zone.s0, until: zone.s1, lead: zone.at.s },
              cells: [
                bendText(zone), lengthText(zone.s0, unit), lengthText(zone.s1, unit), isHeated(zone) ? lengthText(zone.wrap, unit, 0) : '',
                radiusText(zone.radius, unit), strainText(zone.strain), zone.strain > 0 ? fixed(1 / (2 * zone.strain), 0) : '–',
              ],
            }))}
          />
          {advice(bent, unit) !== '' && <p className="advice">{advice(bent, unit)}</p>}
        </section>
      ))}
      <LiesList plan={plan} parts={parts} unit={unit} />
    </>
  );
}
