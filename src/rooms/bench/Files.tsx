/** The three files of the bench, always in reach: bench sheet, laser files, all papers; with how far their making is. */
import type { Parts } from '../../../geometry/parts/types';
import type { Plan } from '../../../geometry/types';
import type { Unit } from '../../say/units';
import { isBusy, useJobs } from '../../state/jobs';
import { Said } from '../../ui/Said';
import { stagesOf, Working } from '../../ui/Working';
import { useBench } from './pages';
import { usePaperTrust } from './paperTrust';
import { download, lookAtPapers, makeAgain, packThese } from './papers';
import './bench.css';

interface FilesProps {
  readonly plan: Plan;
  readonly parts: Parts | null;
  readonly unit: Unit;
}

/** The paper that is looked at and saved most. */
const SHEET = 'bench-sheet';

export function Files({ plan, parts, unit }: FilesProps) {
  const trust = usePaperTrust(plan);
  const busy = useJobs(({ papers }) => isBusy(papers));
  const { page, looked, open, look } = useBench();
  const none = busy || !parts;
  const laserFiles = async () => {
    const list = parts && await lookAtPapers(plan, parts, unit, trust);
    if (!list) return;
    const made = await packThese(list.filter(({ group }) => group === 'laser').map(({ id }) => id), 'laser');
    if (made) download(made);
  };
  return (
    <div className="bench-files" role="group" aria-label="Files">
      <button type="button" className="ruled" title="PDF: all figures in the order of the work, to look at and to save" aria-pressed={looked === SHEET} disabled={!parts} onClick={() => look(looked === SHEET ? null : SHEET)}>Bench sheet</button>
      <button type="button" className="ruled" title="SVG and DXF, full size, in one zip" disabled={none} onClick={() => void laserFiles()}>Laser files</button>
      <button type="button" className="ruled" aria-pressed={page === 'papers' && !looked} onClick={() => open('papers')}>All papers</button>
    </div>
  );
}

const NONE: readonly never[] = [];

/** How far the making of papers is, with the way to stop it, and what failed. */
export function FilesState() {
  const failure = useJobs(({ paperList }) => (paperList.status === 'failed' ? paperList.failure : null));
  const faults = useJobs(({ papers }) => (papers.status === 'done' && papers.result ? papers.result.faults : NONE));
  const onPapers = useBench(({ page }) => page === 'papers');
  return (
    <div className="files-state">
      <Working job="papers" tell={stagesOf('Making papers')} again={makeAgain} />
      {failure && !onPapers && <p className="field-error" role="alert"><b>No papers.</b> <Said text={failure.message} /></p>}
      {faults.length > 0 && (
        <ul className="missing" role="alert">{faults.map(({ title, message }) => <li key={title}><strong>{title}</strong> could not be made: <Said text={message} /></li>)}</ul>
      )}
    </div>
  );
}
