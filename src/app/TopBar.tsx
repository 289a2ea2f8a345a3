/** The top bar: the board and its menu, the four rooms with how far each has come, undo and redo, units and light. */
import { lazy, Suspense } from 'react';
import { UNITS } from '../say/units';
import { useDesign, useHistory } from '../state/design';
import { useKeep } from '../state/keep';
import { useUnits } from '../state/unit';
import { ROOMS, useView } from '../state/view';
import { afterwards } from './later';
import { RoomTabs } from './RoomTabs';
import css from './TopBar.module.css';

/** Nothing is done yet that could be taken back; where its script cannot be fetched nothing is. */
const NO_UNDO = <button type="button" aria-label="Undo" title="Undo (Ctrl Z)" disabled>↶</button>;
const NO_STATUS = <RoomTabs />;
const RoomsNow = lazy(() => afterwards().then(({ RoomsNow: there }) => ({ default: there }), () => ({ default: () => NO_STATUS })));
const Undo = lazy(() => afterwards().then(({ Undo: there }) => ({ default: there }), () => ({ default: () => NO_UNDO })));

const KEPT = { kept: 'kept', writing: 'saving…', failed: 'not kept here' } as const;

function BoardButton() {
  const name = useDesign(({ design }) => design.name);
  const status = useKeep((state) => state.status);
  const opened = useView(({ drawer }) => drawer === 'boards');
  const open = useView((state) => state.open);
  return (
    <button type="button" className={css.board} aria-haspopup="dialog" aria-expanded={opened} onClick={() => open(opened ? null : 'boards')}>
      <b><span className="spoken">Board: </span>{name}</b>{' '}
      <small data-failed={status === 'failed' || undefined}>{KEPT[status]}</small>
      <i className="chevron" aria-hidden="true" />
    </button>
  );
}

function WordsButton() {
  const opened = useView(({ words }) => words);
  const { open, explain } = useView.getState();
  return <button type="button" className="ruled" aria-expanded={opened} onClick={() => (opened ? open(null) : explain(null))}>Words</button>;
}

export function TopBar() {
  const { unit, setUnit } = useUnits();
  const theme = useView((state) => state.theme);
  const room = useView((state) => state.room);
  const setTheme = useView((state) => state.setTheme);
  const { redo, futureStates } = useHistory();
  const light = theme === 'paper' ? 'Dark colours' : 'Light colours';
  return (
    <header className={css.topbar} data-area="top">
      <h1>Railwright</h1>
      <BoardButton />
      <button type="button" className={css.menu} aria-haspopup="dialog" onClick={() => useView.getState().open('menu')}>
        <span className="spoken">Menu, </span><em>Railwright</em> <span>{ROOMS.find(({ id }) => id === room)?.label}</span> <i className="chevron" aria-hidden="true" />
      </button>
      <Suspense fallback={NO_STATUS}><RoomsNow /></Suspense>
      <span className={css.pair}>
        <Suspense fallback={NO_UNDO}><Undo /></Suspense>
        <button type="button" aria-label="Redo" title="Redo (Ctrl Shift Z)" disabled={futureStates.length === 0} onClick={() => redo()}>↷</button>
      </span>
      <WordsButton />
      <span className="segments" role="group" aria-label="Unit">
        {UNITS.map(({ id, label, hint }) => (
          <button key={id} type="button" title={hint} aria-pressed={unit === id} onClick={() => setUnit(id)}>{label}</button>
        ))}
      </span>
      <button type="button" aria-label={light} title={light} onClick={() => setTheme(theme === 'paper' ? 'bench' : 'paper')}>
        {theme === 'paper' ? '☾' : '☀'}
      </button>
    </header>
  );
}
