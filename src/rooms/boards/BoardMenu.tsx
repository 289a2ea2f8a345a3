/** Boards: one's own and the starters to open, what makes, opens, saves and shares one, and the snapshots of the open one. */
import { useEffect, useState } from 'react';
import { blankDesign } from '../../../geometry/design/defaults';
import { openBoard, saveBoard } from '../../state/boardFile';
import { useDesign } from '../../state/design';
import { beginBoard, deleteBoard, deleteSnapshot, openFromShelf, refreshShelf, restoreSnapshot, saveSnapshot, useKeep } from '../../state/keep';
import { type Starter, starterDesign, starters } from './starters';
import { useView } from '../../state/view';
import { FilePick } from '../../ui/FilePick';
import { Drawer } from '../../ui/Drawer';
import { Thumb } from './Thumb';
import './boards.css';

const when = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

const close = () => useView.getState().open(null);

function Snapshots() {
  const snapshots = useKeep((state) => state.snapshots);
  const [name, setName] = useState('');
  const [refused, setRefused] = useState('');
  const save = async () => {
    const trouble = await saveSnapshot(name.trim() || when.format(Date.now()));
    setRefused(trouble && `The snapshot was not saved: ${trouble}`);
    if (trouble === '') setName('');
  };
  const remove = async (id: string) => {
    const trouble = await deleteSnapshot(id);
    setRefused(trouble && `The snapshot was not deleted: ${trouble}`);
  };
  return (
    <fieldset>
      <legend>Snapshots of this board</legend>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void save();
        }}
      >
        <input aria-label="Name of the snapshot" placeholder="before the new nose" maxLength={80} value={name} onChange={(event) => setName(event.target.value)} />
        <button type="submit" className="ruled">Take a snapshot</button>
      </form>
      {refused !== '' && <p className="hint" role="alert">{refused}</p>}
      {snapshots.length === 0 && <p className="hint">None yet. A snapshot is the board as it is now, under a name, to return to.</p>}
      <ul>
        {snapshots.map((snapshot) => (
          <li key={snapshot.id}>
            <span><b>{snapshot.name}</b><small>{when.format(snapshot.at)}</small></span>
            <button type="button" className="ruled" onClick={() => void restoreSnapshot(snapshot)}>Restore</button>
            <button type="button" aria-label={`Delete the snapshot ${snapshot.name}`} onClick={() => void remove(snapshot.id)}>✕</button>
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

function OwnBoards() {
  const { id, boards } = useKeep();
  const [refused, setRefused] = useState('');
  const remove = async (board: (typeof boards)[number]) => {
    if (!window.confirm(`Delete ${board.name} and its snapshots from this browser? This cannot be undone.`)) return;
    const trouble = await deleteBoard(board.id);
    setRefused(trouble && `${board.name} was not deleted: ${trouble}`);
  };
  return (
    <fieldset>
      <legend>My boards</legend>
      {refused !== '' && <p className="hint" role="alert">{refused}</p>}
      <ul>
        {boards.map((board) => (
          <li key={board.id} aria-current={board.id === id}>
            {board.id === id
              ? <p className="board"><Thumb text={board.text} /><span><b>{board.name}</b><small>open now, kept {when.format(board.at)}</small></span></p>
              : (
                <>
                  <button type="button" className="board" onClick={() => void openFromShelf(board.id).then(close)}>
                    <Thumb text={board.text} /><span><span className="spoken">Open </span><b>{board.name}</b>{' '}<small>kept {when.format(board.at)}</small></span>
                  </button>
                  <button type="button" aria-label={`Delete ${board.name}`} onClick={() => void remove(board)}>✕</button>
                </>
              )}
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

function Starters() {
  const begin = (starter: Starter) => void beginBoard(starterDesign(starter)).then(close);
  return (
    <fieldset>
      <legend>Starters</legend>
      <ul>
        {starters.map((starter) => (
          <li key={starter.id}>
            <button type="button" className="board" onClick={() => begin(starter)}>
              <Thumb text={starter.text} /><span><span className="spoken">Begin with </span><b>{starter.name}</b>{' '}<small>a board of your own begins with it</small></span>
            </button>
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

/** A board with plain lines in place of the open one, and the room to draw it in. */
function newBoard(): void {
  void beginBoard(blankDesign());
  useView.getState().goTo('shape');
}

export function BoardMenu() {
  const status = useKeep((state) => state.status);
  const design = useDesign((state) => state.design);
  // The list follows what is written.
  useEffect(() => {
    if (status === 'kept') void refreshShelf();
  }, [status, design]);
  return (
    <Drawer label="Boards" className="boards">
      <p className="hint" role="status">
        {status === 'failed'
          ? 'This browser cannot keep the board. Save it to a file before you leave.'
          : status === 'writing' ? 'Saving…' : 'Every change is kept in this browser as you make it.'}
      </p>
      <div className="columns">
        <div>
          <OwnBoards />
          <Starters />
        </div>
        <div>
          <div className="board-acts">
            <button type="button" className="ruled" title="A board with plain lines; undo returns to this one" onClick={newBoard}>New board</button>
            <FilePick className="ruled" label="Open a file" accept=".json,application/json" name="board-file" onFile={(file) => void openBoard(file).then(close)} />
            <button type="button" className="ruled" title="Shift: to another file" onClick={(event) => void saveBoard(event.shiftKey)}>Save to a file</button>
            <button type="button" className="ruled" onClick={() => useView.getState().open('share')}>Share a link</button>
          </div>
          <Snapshots />
        </div>
      </div>
      <p className="hint">
        They are kept for this address, {location.host || 'this file'}, and no other. Boards made at another address are still there: open that address, save each to a file or
        share its link, and open that here.
      </p>
    </Drawer>
  );
}
