/** The stage: the board in 3D with its lettering, legend, views and the plan's headline. */
import { Canvas, useThree } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import type { Plan } from '../../geometry/types';
import type { InkedBody } from '../store/planner.worker';
import { bevelScale } from '../store/ramp';
import { useStation } from '../store/station';
import { useUnits } from '../store/units';
import { useView, type ViewName } from '../store/view';
import { boardAnchors, cursorAnchor } from './anchors';
import { Board } from './Board';
import { CameraRig } from './CameraRig';
import { benchHeight } from './frame';
import { LabelLayer, LabelMover } from './Labels';
import { Legend } from './Legend';
import { paintTheme } from './materials';
import { ProjectorSetter } from './Projector';
import { StationCursor } from './StationCursor';

const VIEWS: readonly { readonly name: ViewName; readonly label: string; readonly hint: string }[] = [
  { name: 'three-quarter', label: '3/4', hint: 'Three-quarter view' },
  { name: 'above', label: 'Above', hint: 'Square on from above' },
  { name: 'side', label: 'Side', hint: 'Square on from starboard' },
  { name: 'end', label: 'End', hint: 'Square on from the nose' },
  { name: 'station', label: 'Station', hint: 'Close to the station cursor' },
  { name: 'fit', label: 'Fit', hint: 'The whole board, seen as now' },
];

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

/** Tells the page once that a picture of the board stands on the screen. */
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

interface StageProps {
  readonly plan: Plan;
  readonly bodies: readonly InkedBody[];
}

export function Stage({ plan, bodies }: StageProps) {
  const unit = useUnits((state) => state.unit);
  const { bevelMap, labels, view, ask } = useView();
  const drawing = useStation();
  const layer = useRef<HTMLDivElement>(null);
  const scale = useMemo(() => bevelScale(plan), [plan]);
  const fixed = useMemo(
    () => (labels ? boardAnchors(plan, benchHeight(bodies), unit, bevelMap ? scale : null) : []),
    [plan, bodies, unit, bevelMap, scale, labels],
  );
  const anchors = useMemo(() => (drawing ? [cursorAnchor(plan, drawing, unit), ...fixed] : fixed), [plan, drawing, unit, fixed]);
  return (
    <>
      <Canvas
        orthographic legacy linear flat frameloop="demand"
        dpr={[1, 2]}
        camera={{ near: 1, far: 14000, position: [2000, 3600, 4800] }}
        gl={{ antialias: true, powerPreference: 'high-performance' }}
        role="img"
        aria-label={`${plan.design.name} in three dimensions`}
      >
        <Theme />
        <CameraRig plan={plan} bodies={bodies} />
        <Board plan={plan} bodies={bodies} />
        {drawing && <StationCursor plan={plan} drawing={drawing} />}
        <LabelMover anchors={anchors} length={plan.hull.length} layer={layer} />
        <ProjectorSetter length={plan.hull.length} />
        <FirstPicture />
      </Canvas>
      <LabelLayer anchors={anchors} layer={layer} />
      {bevelMap && <Legend scale={scale} bevel={drawing?.section.bevel ?? Number.NaN} />}
      <div className="views" role="toolbar" aria-label="Views">
        {VIEWS.map(({ name, label, hint }) => (
          <button key={name} type="button" title={hint} aria-pressed={view.name === name} onClick={() => ask(name)}>{label}</button>
        ))}
      </div>
    </>
  );
}
