/** The shelf: every board kept in this browser, and the snapshots of the open one. */
import { useEffect, useState } from 'react';
import { useDesign } from '../../state/design';
import { deleteBoard, deleteSnapshot, refreshShelf, restoreSnapshot, openFromShelf, saveSnapshot, useKeep } from '../../state/keep';
import './shelf.css';

const when = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

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
        <button type="submit">Save snapshot</button>
      </form>
      {refused !== '' && <p className="hint" role="alert">{refused}</p>}
      {snapshots.length === 0 && <p className="hint">None yet. A snapshot is the board as it is now, saved under a name so that you can return to it.</p>}
      <ul>
        {snapshots.map((snapshot) => (
          <li key={snapshot.id}>
            <span><b>{snapshot.name}</b><small>{when.format(snapshot.at)}</small></span>
            <button type="button" onClick={() => restoreSnapshot(snapshot)}>Restore</button>
            <button type="button" aria-label={`Delete the snapshot ${snapshot.name}`} onClick={() => void remove(snapshot.id)}>✕</button>
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

function Boards() {
  const { id, boards } = useKeep();
  const [refused, setRefused] = useState('');
  const remove = async (board: (typeof boards)[number]) => {
    if (!window.confirm(`Delete ${board.name} and its snapshots from this browser? This cannot be undone.`)) return;
    const trouble = await deleteBoard(board.id);
    setRefused(trouble && `${board.name} was not deleted: ${trouble}`);
  };
  return (
    <fieldset>
      <legend>Boards kept in this browser</legend>
      {refused !== '' && <p className="hint" role="alert">{refused}</p>}
      <ul>
        {boards.map((board) => (
          <li key={board.id} aria-current={board.id === id}>
            <span><b>{board.name}</b><small>{when.format(board.at)}</small></span>
            {board.id === id ? <em>open now</em> : (
              <>
                <button type="button" aria-label={`Open ${board.name}`} onClick={() => void openFromShelf(board.id)}>Open</button>
                <button type="button" aria-label={`Delete ${board.name}`} onClick={() => void remove(board)}>✕</button>
              </>
            )}
          </li>
        ))}
      </ul>
      <p className="hint">
        They are kept for this address, {location.host || 'this file'}, and no other. Boards made at another address are still there: open that address, save each to a file or
        share its link, and open that here.
      </p>
    </fieldset>
  );
}

/** The boards that are kept, and whether keeping works. */
export function ShelfPanel() {
  const status = useKeep((state) => state.status);
  const design = useDesign((state) => state.design);
  // The list follows what is written.
  useEffect(() => {
    if (status === 'kept') void refreshShelf();
  }, [status, design]);
  return (
    <section className="panel shelf" aria-label="Shelf">
      <h2>Shelf</h2>
      <p className="hint" role="status">
        {status === 'failed'
          ? 'This browser cannot keep the board. Save it to a file before you leave.'
          : status === 'writing' ? 'Saving…' : 'Every change is kept in this browser as you make it.'}
      </p>
      <Snapshots />
      <Boards />
    </section>
  );
}
