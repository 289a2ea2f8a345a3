/** The top bar: the board and its menu, the four rooms with how far each has come, undo and redo, units and light. */
import { UNITS } from '../say/units';
import { useDesign, useHistory } from '../state/design';
import { useKeep } from '../state/keep';
import { useUnits } from '../state/unit';
import { ROOMS, useView } from '../state/view';
import { useLastStep } from '../work/lastStep';
import { useRoomStatus } from './useRoomStatus';
import css from './TopBar.module.css';

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

function RoomTabs() {
  const room = useView((state) => state.room);
  const goTo = useView((state) => state.goTo);
  const status = useRoomStatus();
  return (
    <nav className={css.rooms} aria-label="Rooms">
      {ROOMS.map(({ id, label }) => (
        <button key={id} type="button" aria-current={room === id ? 'page' : undefined} onClick={() => goTo(id)}>
          <span>{label}</span>
          <small data-wants={status[id].wants || undefined} data-open={status[id].open || undefined} aria-busy={status[id].open || undefined}>{status[id].text}</small>
        </button>
      ))}
    </nav>
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
  const { what, can, undo } = useLastStep();
  const light = theme === 'paper' ? 'Dark colours' : 'Light colours';
  return (
    <header className={css.topbar} data-area="top">
      <h1>Railwright</h1>
      <BoardButton />
      <button type="button" className={css.menu} aria-haspopup="dialog" onClick={() => useView.getState().open('menu')}>
        <span className="spoken">Menu, </span><em>Railwright</em> <span>{ROOMS.find(({ id }) => id === room)?.label}</span> <i className="chevron" aria-hidden="true" />
      </button>
      <RoomTabs />
      <span className={css.pair}>
        <button type="button" aria-label="Undo" title={`Undo${what && `: ${what}`} (Ctrl Z)`} disabled={!can} onClick={undo}>↶</button>
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
