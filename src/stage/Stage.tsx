/** The stage: the board in 3D with its labels, legend, views and the plan's headline. */
import { Canvas, useThree } from '@react-three/fiber';
import { type RefObject, useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import type { Plan, SectionDrawing } from '../../geometry/types';
import { useBuild } from '../state/build';
import type { InkedBody } from '../state/jobKinds';
import { useJobs } from '../state/jobs';
import { bevelScale } from '../say/ramp';
import { drawingAt, useStation } from '../state/station';
import { useUnits } from '../state/unit';
import { useView, type ViewName } from '../state/view';
import { useShownBuilt } from '../work/readings';
import { type Anchor, boardAnchors, cursorAnchor } from './anchors';
import { Board } from './Board';
import { CameraRig } from './CameraRig';
import { benchHeight } from './frame';
import { LabelLayer, LabelMover } from './Labels';
import { Legend } from './Legend';
import { paintTheme } from './materials';
import { ProjectorSetter } from './Projector';
import { StationCursor } from './StationCursor';
import css from './Stage.module.css';

const VIEWS: readonly { readonly name: ViewName; readonly label: string; readonly hint: string }[] = [
  { name: 'three-quarter', label: '3/4', hint: 'Three-quarter view' },
  { name: 'above', label: 'Above', hint: 'Square on from above' },
  { name: 'side', label: 'Side', hint: 'Square on from starboard' },
  { name: 'end', label: 'End', hint: 'Square on from the nose' },
  { name: 'station', label: 'Station', hint: 'Close to the station cursor' },
  { name: 'fit', label: 'Fit', hint: 'The whole board, seen as now' },
];

const FILLS = { position: 'absolute', inset: 0, touchAction: 'none' } as const;

/** Repaints when the theme changes. */
function Theme() {
  const theme = useView((state) => state.theme);
  const invalidate = useThree((state) => state.invalidate);
  useLayoutEffect(() => {
    paintTheme(theme);
    invalidate();
  }, [theme, invalidate]);
  return null;
}

/** Tells the page once that a picture of the board is on the screen. */
function FirstPicture() {
  const gl = useThree((state) => state.gl);
  useEffect(() => {
    const id = requestAnimationFrame(() => {
      performance.mark('first-picture');
      gl.domElement.dataset.drawn = 'yes';
    });
    return () => cancelAnimationFrame(id);
  }, [gl]);
  return null;
}

interface BoardSceneProps {
  readonly plan: Plan;
  readonly bodies: readonly InkedBody[];
  readonly drawing: SectionDrawing | null;
  readonly anchors: readonly Anchor[];
  readonly layer: RefObject<HTMLDivElement | null>;
}

/** What is in the canvas once there is a plan. */
function BoardScene({ plan, bodies, drawing, anchors, layer }: BoardSceneProps) {
  return (
    <>
      <CameraRig plan={plan} bodies={bodies} />
      <Board plan={plan} bodies={bodies} />
      {drawing && <StationCursor plan={plan} drawing={drawing} />}
      <LabelMover anchors={anchors} length={plan.hull.length} layer={layer} />
      <ProjectorSetter length={plan.hull.length} />
      <FirstPicture />
    </>
  );
}

/** Whether the cap carries the bevel map: as the layers have it, or, while the build is shown, in the steps about bevels. */
function useMapped(): boolean {
  const bevelMap = useView((state) => state.bevelMap);
  const standing = useBuild((state) => state.standing);
  return standing ? standing.bevels : bevelMap;
}

/** All labels for a plan; none while they are switched off. */
function useAnchors(plan: Plan | null, bodies: readonly InkedBody[], drawing: SectionDrawing | null): readonly Anchor[] {
  const unit = useUnits((state) => state.unit);
  const { labels, cut } = useView();
  const mapped = useMapped();
  const built = useShownBuilt(plan);
  const rows = useBuild(({ standing }) => !standing || standing.places.includes('row'));
  const fixed = useMemo(() => {
    if (!plan || !labels) return [];
    const all = boardAnchors(plan, benchHeight(bodies), unit, mapped ? bevelScale(plan) : null, built?.plan);
    return rows ? all : all.filter(({ kind }) => kind !== 'stop');
  }, [plan, bodies, unit, mapped, labels, rows, built]);
  return useMemo(() => {
    if (!plan || !drawing) return fixed;
    const { x, y, tx, ty } = drawing.section;
    const stands = ({ kind, at }: Anchor) => kind === 'rule' || (at[0] - x) * tx + (at[1] - y) * ty <= 0.5;
    return [cursorAnchor(plan, drawing, unit, built ? drawingAt(built.plan, drawing.section.s).section.bevel : undefined), ...(cut ? fixed.filter(stands) : fixed)];
  }, [plan, drawing, unit, fixed, cut, built]);
}

const NOTHING = { plan: null, bodies: [] } as const;

export function Stage() {
  const { plan, bodies } = useJobs((jobs) => jobs.plan.result) ?? NOTHING;
  const { view, ask } = useView();
  const mapped = useMapped();
  const drawing = useStation();
  const layer = useRef<HTMLDivElement>(null);
  const anchors = useAnchors(plan, bodies, drawing);
  return (
    <>
      <Canvas
        orthographic legacy linear flat frameloop="demand"
        dpr={[1, 2]}
        style={FILLS}
        camera={{ near: 1, far: 14000, position: [2000, 3600, 4800] }}
        gl={{ antialias: true, powerPreference: 'high-performance', localClippingEnabled: true }}
        role="img"
        aria-describedby="stage-words"
        aria-label={plan ? `${plan.design.name} in three dimensions` : 'The board in three dimensions'}
      >
        <Theme />
        {plan && <BoardScene plan={plan} bodies={bodies} drawing={drawing} anchors={anchors} layer={layer} />}
      </Canvas>
      <LabelLayer anchors={anchors} layer={layer} />
      {plan && mapped && <Legend scale={bevelScale(plan)} bevel={drawing?.section.bevel ?? Number.NaN} />}
      <div className={css.views} data-keep-out role="toolbar" aria-label="Views">
        {VIEWS.map(({ name, label, hint }) => (
          <button key={name} type="button" title={hint} aria-pressed={view.name === name} onClick={() => ask(name)}>{label}</button>
        ))}
      </div>
    </>
  );
}
