/** The shelf: every board kept in this browser, and the snapshots of the one in hand. */
import { useEffect, useState } from 'react';
import { useDesign } from '../../state/design';
import { discardBoard, discardSnapshot, refreshShelf, restoreSnapshot, takeFromShelf, takeSnapshot, useKeep } from '../../state/keep';

const when = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

function Snapshots() {
  const snapshots = useKeep((state) => state.snapshots);
  const [name, setName] = useState('');
  const keep = () => {
    void takeSnapshot(name.trim() || when.format(Date.now()));
    setName('');
  };
  return (
    <fieldset>
      <legend>Snapshots of this board</legend>
      <form
        className="shelf-new"
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <input aria-label="Name of the snapshot" placeholder="before the new nose" maxLength={80} value={name} onChange={(event) => setName(event.target.value)} />
        <button type="submit">Set aside</button>
      </form>
      {snapshots.length === 0 && <p className="hint">None yet. A snapshot is the board as it stands, under a name, to come back to.</p>}
      <ul className="shelf">
        {snapshots.map((snapshot) => (
          <li key={snapshot.id}>
            <span><b>{snapshot.name}</b><small>{when.format(snapshot.at)}</small></span>
            <button type="button" onClick={() => restoreSnapshot(snapshot)}>Bring back</button>
            <button type="button" aria-label={`Discard the snapshot ${snapshot.name}`} onClick={() => void discardSnapshot(snapshot.id)}>✕</button>
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

function Boards() {
  const { id, boards } = useKeep();
  return (
    <fieldset>
      <legend>Boards kept in this browser</legend>
      <ul className="shelf">
        {boards.map((board) => (
          <li key={board.id} aria-current={board.id === id}>
            <span><b>{board.name}</b><small>{when.format(board.at)}</small></span>
            {board.id === id ? <em>in hand</em> : (
              <>
                <button type="button" onClick={() => void takeFromShelf(board.id)}>Take up</button>
                <button
                  type="button" aria-label={`Discard ${board.name}`}
                  onClick={() => {
                    if (window.confirm(`Discard ${board.name} and its snapshots from this browser? This cannot be undone.`)) void discardBoard(board.id);
                  }}
                >
                  ✕
                </button>
              </>
            )}
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

/** What is kept, and whether it is. */
export function ShelfPanel() {
  const { status, copyOf } = useKeep();
  const design = useDesign((state) => state.design);
  // The list follows what is written.
  useEffect(() => {
    if (status === 'kept') void refreshShelf();
  }, [status, design]);
  return (
    <section className="panel" aria-label="Shelf">
      <h2>Shelf</h2>
      <p className="hint" role="status">
        {status === 'failed'
          ? 'This browser will not keep the board. Save it to a file before you leave.'
          : status === 'writing' ? 'Writing…' : 'Every change is kept in this browser as you make it.'}
      </p>
      {copyOf !== null && <p className="hint">{copyOf} is open in another tab. This tab works on a copy of its own.</p>}
      <Snapshots />
      <Boards />
    </section>
  );
}
