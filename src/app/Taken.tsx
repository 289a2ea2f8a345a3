/** What the page takes from anywhere on it: keys, and files that are dropped. */
import { useEffect, useState } from 'react';
import { takeFile } from '../state/drops';
import { useKeys } from './keys';
import { setProbe } from './probe';
import css from './Taken.module.css';

/** Board files dropped anywhere on the page. */
function useDrop(): boolean {
  const [over, setOver] = useState(false);
  useEffect(() => {
    const drag = (event: DragEvent) => {
      if (!event.dataTransfer?.types.includes('Files')) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent) => {
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) takeFile(file);
    };
    window.addEventListener('dragover', drag);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', drag);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return over;
}

export function Taken() {
  useKeys();
  // The page is whole: those who ask it may go on.
  useEffect(setProbe, []);
  return useDrop() && <div className={css.drop} aria-hidden="true">Drop to open the file</div>;
}
