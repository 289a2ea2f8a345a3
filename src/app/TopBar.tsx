/** The top bar: the board, its file, undo and redo, the panels, units and light. */
import { useEffect, useRef } from 'react';
import { blankDesign } from '../../geometry/design/defaults';
import type { Plan } from '../../geometry/types';
import { openBoard, saveBoard } from '../state/boardFile';
import { useDesign, useHistory } from '../state/design';
import { beginBoard } from '../state/keep';
import { useDecisions } from '../work/parts';
import { starterDesign, starters } from '../state/starters';
import { useUnits } from '../state/unit';
import { UNITS } from '../say/units';
import { type PanelName, useView } from '../state/view';
import { FilePick } from '../ui/FilePick';
import css from './TopBar.module.css';

interface Tab {
  readonly name: PanelName;
  readonly label: string;
}

/** The panels by what they are for: looking, drawing, checking, making, keeping. */
const GROUPS: readonly (readonly Tab[])[] = [
  [{ name: 'station', label: 'Station' }, { name: 'layers', label: 'Layers' }, { name: 'large', label: 'Large' }],
  [{ name: 'lines', label: 'Lines' }, { name: 'sizes', label: 'Sizes' }, { name: 'family', label: 'Family' }, { name: 'targets', label: 'Targets' }],
  [{ name: 'findings', label: 'Findings' }, { name: 'tolerance', label: 'Tolerance' }, { name: 'readings', label: 'As built' }],
  [{ name: 'bench', label: 'Bench' }, { name: 'build', label: 'Build' }],
  [{ name: 'shelf', label: 'Shelf' }, { name: 'share', label: 'Share' }],
];

function BoardPicker() {
  const design = useDesign((state) => state.design);
  const present = starters.find(({ name }) => name === design.name)?.id;
  return (
    <select
      className={css.picker} aria-label="Board" value={present ?? 'own'}
      onChange={(event) => {
        const starter = starters.find(({ id }) => id === event.target.value);
        if (!starter) return;
        void beginBoard(starterDesign(starter));
      }}
    >
      {present === undefined && <option value="own">{design.name}</option>}
      <optgroup label="Starter boards">
        {starters.map((starter) => <option key={starter.id} value={starter.id}>{starter.name}</option>)}
      </optgroup>
    </select>
  );
}

/** A board with plain lines in place of the open one, and the lines' room to draw it in. */
function newBoard(): void {
  void beginBoard(blankDesign());
  if (useView.getState().panel !== 'lines') useView.getState().setPanel('lines');
}

function FileButtons() {
  return (
    <>
      <button type="button" title="New board with plain lines (undo returns to this one)" onClick={newBoard}>New</button>
      <FilePick label="Open" accept=".json,application/json" name="board-file" onFile={(file) => void openBoard(file)} />
      <button type="button" title="Save to a file (Shift: to another file)" onClick={(event) => void saveBoard(event.shiftKey)}>Save</button>
    </>
  );
}

function PanelTabs({ decisions }: { readonly decisions: number }) {
  const panel = useView((state) => state.panel);
  const setPanel = useView((state) => state.setPanel);
  const strip = useRef<HTMLElement>(null);
  // Where the strip is narrower than its tabs, the open one is kept in sight.
  useEffect(() => {
    strip.current?.querySelector('[aria-pressed="true"]')?.scrollIntoView({ inline: 'center', block: 'nearest' });
  }, [panel]);
  return (
    <nav className={`tabs ${css.tabs}`} aria-label="Panels" ref={strip}>
      {GROUPS.map((tabs) => (
        <span key={tabs[0].name} className={css.group}>
          {tabs.map(({ name, label }) => (
            <button key={name} type="button" aria-pressed={panel === name} onClick={() => setPanel(name)}>
              {label}
              {name === 'findings' && decisions > 0 && <em aria-label={`${decisions} to decide`}>{decisions}</em>}
            </button>
          ))}
        </span>
      ))}
    </nav>
  );
}

export function TopBar({ plan }: { readonly plan: Plan | null }) {
  const { unit, setUnit } = useUnits();
  const theme = useView((state) => state.theme);
  const setTheme = useView((state) => state.setTheme);
  const { undo, redo, pastStates, futureStates } = useHistory();
  return (
    <header className={css.topbar} data-area="top">
      <h1>Railwright</h1>
      <BoardPicker />
      <FileButtons />
      <span className={css.pair}>
        <button type="button" aria-label="Undo" title="Undo (Ctrl Z)" disabled={pastStates.length === 0} onClick={() => undo()}>↶</button>
        <button type="button" aria-label="Redo" title="Redo (Ctrl Shift Z)" disabled={futureStates.length === 0} onClick={() => redo()}>↷</button>
      </span>
      <PanelTabs decisions={useDecisions(plan).length} />
      <span className={`segments ${css.units}`} role="group" aria-label="Unit">
        {UNITS.map(({ id, label, hint }) => (
          <button key={id} type="button" title={hint} aria-pressed={unit === id} onClick={() => setUnit(id)}>{label}</button>
        ))}
      </span>
      <button
        type="button" className={css.light} aria-label={theme === 'paper' ? 'Dark colours' : 'Light colours'} title={theme === 'paper' ? 'Dark colours' : 'Light colours'}
        onClick={() => setTheme(theme === 'paper' ? 'bench' : 'paper')}
      >
        {theme === 'paper' ? '☾' : '☀'}
      </button>
    </header>
  );
}
