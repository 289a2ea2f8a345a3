/** A file that was not opened, and why; or what was noticed in one that was. */
import { useFile } from '../state/boardFile';
import { useFocusHere } from '../ui/Drawer';
import { Said } from '../ui/Said';
import css from './FileNoticeOpen.module.css';

export function FileNoticeOpen() {
  const { refused, notes, close } = useFile();
  const notice = useFocusHere<HTMLDivElement>(() => document.activeElement);
  return (
    <div className={css.notice} role="alertdialog" aria-label={refused ? 'The file was not opened' : 'About this file'} tabIndex={-1} ref={notice}>
      {refused ? (
        <>
          <h2>{refused.name} was not opened</h2>
          <p>Your board is unchanged. {refused.errors.length === 1 ? 'One thing' : `${refused.errors.length} things`} to fix:</p>
          <table>
            <thead><tr><th>Field</th><th>Value</th><th>Allowed</th><th>What is wrong</th></tr></thead>
            <tbody>
              {refused.errors.map((error, i) => (
                <tr key={`${error.field} ${i}`}>
                  <td>{error.field || 'the file'}</td><td><Said text={error.value} /></td><td><Said text={error.allowed} /></td><td><Said text={error.message} /></td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      ) : (
        <ul>{notes.map((note) => <li key={note}>{note}</li>)}</ul>
      )}
      <button type="button" onClick={close}>Close</button>
    </div>
  );
}
