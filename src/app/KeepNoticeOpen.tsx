/** What the maker must know of keeping: changes that are not kept, a copy, a record that cannot be read, tabs that are not told apart. */
import { useState } from 'react';
import { guarded, tryAgain, useKeep } from '../state/keep';
import { handOver, saveBoard } from '../state/boardFile';
import { Fault } from '../ui/Said';
import { Corner } from './Corner';

const CANNOT = 'This page cannot tell two tabs apart here: keep each board open in one tab only.';

export function KeepNoticeOpen() {
  const { status, why, copyOf, unread } = useKeep();
  const [closed, setClosed] = useState<readonly string[]>([]);
  const close = (what: string) => setClosed([...closed, what]);
  if (status === 'failed') {
    return (
      <Corner role="alert">
        <span>Your changes are not being kept: {why} Save the board, and readings if there are any, to files before you leave.</span>
        <button type="button" onClick={() => void saveBoard()}>Save to a file</button>
        <button type="button" onClick={tryAgain}>Try again</button>
      </Corner>
    );
  }
  if (unread) {
    return (
      <Corner role="alert">
        <span>{unread.name} is kept in this browser but cannot be read. It stays there as it is. <Fault error={unread.errors[0]} /></span>
        <button type="button" onClick={() => handOver(unread.name, '.board.json', unread.text)}>Save its text to a file</button>
        <button type="button" onClick={() => useKeep.setState({ unread: null })}>Close</button>
      </Corner>
    );
  }
  const note = copyOf !== null && !closed.includes(copyOf) ? { what: copyOf, text: `${copyOf} is open in another tab. This tab works on a copy of its own, readings included.` }
    : !guarded() && !closed.includes(CANNOT) ? { what: CANNOT, text: CANNOT } : null;
  if (!note) return null;
  return (
    <Corner role="status">
      <span>{note.text}</span>
      <button type="button" onClick={() => close(note.what)}>Close</button>
    </Corner>
  );
}
