/** What went wrong, and what was noticed: a file that was not opened, a board that cannot be planned. */
import { useFile } from '../state/boardFile';
import { useJobs } from '../state/jobs';
import { usePlan } from '../state/plan';
import { Said } from '../ui/Said';
import css from './Notices.module.css';

export function FileNotice() {
  const { refused, notes, close } = useFile();
  if (!refused && notes.length === 0) return null;
  return (
    <div className={css.notice} role="alertdialog" aria-label={refused ? 'The file was not opened' : 'About this file'}>
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

export function PlanNotice() {
  const failure = useJobs(({ draft, plan }) => draft.failure ?? plan.failure);
  const plan = usePlan();
  if (!failure) return null;
  return (
    <div className={css.failure} role="alert">
      <strong>This board cannot be planned.</strong> <Said text={failure.message} />
      {plan && ' The drawing shows the last board that could be planned.'}
    </div>
  );
}
