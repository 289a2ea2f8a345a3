/** The stage: the board in 3D with its labels, legend, views and the plan's headline. */
import { useThree } from '@react-three/fiber';
import { type ComponentType, lazy, memo, type ReactNode, Suspense, useEffect, useEffectEvent, useLayoutEffect, useRef, useState } from 'react';
import type { Group } from 'three';
import { useBoardBefore } from '../state/boardBefore';
import { useBuild } from '../state/build';
import { beforeDraft, type Draft, eachDraft } from '../state/draft';
import type { DrawnBody } from '../state/jobKinds';
import { useJobs } from '../state/jobs';
import { useView, type ViewName } from '../state/view';
import { usePainter } from '../ui/painter';
import { usePartsOf } from '../work/parts';
import { Bench } from './Bench';
import { Board } from './Board';
import { CameraRig } from './CameraRig';
import { StageCanvas } from './Canvas';
import { stageMatrix } from './frame';
import { LabelLayer, LabelMover, type Pins } from './Labels';
import { Legend } from './Legend';
import { paintTheme } from './materials';
import { ProjectorSetter } from './Projector';
import { useCapColour, useFinished } from './shown';
import { StationCursor } from './StationCursor';
import css from './Stage.module.css';

/** Asked for when it is first shown; the stage stands without one that cannot be fetched. */
const overlay = <P extends object>(fetch: () => Promise<ComponentType<P>>) => lazy(() => fetch().then((shown) => ({ default: shown }), () => ({ default: (() => null) as ComponentType<P> })));
const theOverlays = () => import('./Overlays');
const Overlays = overlay(async () => (await theOverlays()).Overlays);
const OverlayKey = overlay(async () => (await theOverlays()).OverlayKey);

const VIEWS: readonly { readonly name: ViewName; readonly label: string; readonly hint: string }[] = [
  { name: 'three-quarter', label: '3/4', hint: 'Three-quarter view' },
  { name: 'above', label: 'Above', hint: 'Square on from above' },
  { name: 'side', label: 'Side', hint: 'Square on from starboard' },
  { name: 'end', label: 'End', hint: 'Square on from the nose' },
  { name: 'station', label: 'Here', hint: 'Close to the station cursor' },
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

interface BoardSceneProps extends Draft {
  readonly pins: Pins;
}

/** Asks for the frame that paints a draft, so that the stage is drawn in it and not in the one after. */
function DraftFrame() {
  const invalidate = useThree((state) => state.invalidate);
  useLayoutEffect(() => beforeDraft(invalidate), [invalidate]);
  return null;
}

/** What is in the canvas once there is a plan. */
function BoardScene({ plan, bodies, pins }: BoardSceneProps) {
  const tried = useBoardBefore((state) => state.plan !== null);
  const lies = useCapColour() === 'lie';
  const off = useJobs(({ hullFit }) => hullFit.result !== null);
  const measures = useView(({ drawer }) => drawer === 'measure');
  const standing = useBuild((state) => state.standing);
  const parts = usePartsOf(plan);
  const board = useRef<Group>(null);
  const finished = useFinished();
  usePainter(plan, ({ hull: { length } }) => {
    if (!board.current) return;
    stageMatrix(length, board.current.matrix);
    board.current.matrixWorldNeedsUpdate = true;
  });
  return (
    <>
      <CameraRig plan={plan} bodies={bodies} />
      <group ref={board} matrixAutoUpdate={false}>
        <Board plan={plan} bodies={bodies} />
        <Bench plan={plan} bodies={bodies} />
        {!finished && <StationCursor plan={plan} />}
        <Suspense>
          {(tried || lies || off || measures || standing) && <Overlays plan={plan} tried={tried} lies={lies && parts} off={off} measures={measures} standing={standing} />}
        </Suspense>
      </group>
      <LabelMover pins={pins} />
      <ProjectorSetter length={plan.hull.length} />
      <DraftFrame />
      <FirstPicture />
    </>
  );
}

const sameParts = (a: readonly DrawnBody[], b: readonly DrawnBody[]) => a.length === b.length && a.every(({ id }, i) => id === b[i].id);

/** The board that is rendered: the settled one. A draft in which a part comes or goes is rendered too: there is nothing yet to paint it with. */
function useRendered(): Draft | null {
  const settled = useJobs((jobs) => jobs.plan.result);
  const [other, setOther] = useState<{ readonly draft: Draft; readonly before: Draft } | null>(null);
  const rendered = other?.before === settled ? other.draft : settled;
  const look = useEffectEvent((draft: Draft | null) => {
    if (!draft || !settled || !rendered) setOther(null);
    else if (!sameParts(draft.bodies, rendered.bodies)) setOther({ draft, before: settled });
  });
  useLayoutEffect(() => eachDraft(look), []);
  return rendered;
}

/** Drawn again only for what is on it: what renders it asks for a new picture. `tools`: what the room has beside the views. */
export const Stage = memo(function Stage({ tools }: { readonly tools?: ReactNode }) {
  const shown = useRendered();
  const view = useView((state) => state.view);
  const turned = useView((state) => state.turned);
  const ask = useView((state) => state.ask);
  const capColour = useCapColour();
  const mapped = capColour === 'bevel';
  const parts = usePartsOf(shown?.plan ?? null);
  const [pins] = useState<Pins>(() => ({ anchors: [], length: 0, depth: 0, layer: null }));
  return (
    <>
      <div className={css.picture}>
        <StageCanvas words="stage-words" label={shown ? `${shown.plan.design.name} in three dimensions` : 'The board in three dimensions'}>
          <Theme />
          {shown && <BoardScene plan={shown.plan} bodies={shown.bodies} pins={pins} />}
        </StageCanvas>
        {shown && <LabelLayer plan={shown.plan} bodies={shown.bodies} pins={pins} mapped={mapped} />}
        {shown && mapped && <Legend plan={shown.plan} />}
        {shown && capColour === 'lie' && <Suspense><OverlayKey parts={parts} /></Suspense>}
      </div>
      <div className={css.tools} data-keep-out>
        {tools}
        <div className={css.views} role="toolbar" aria-label="Views">
          {VIEWS.map(({ name, label, hint }) => (
            <button key={name} type="button" title={hint} aria-pressed={view.name === name && !turned} onClick={() => ask(name)}>{label}</button>
          ))}
        </div>
      </div>
    </>
  );
});
