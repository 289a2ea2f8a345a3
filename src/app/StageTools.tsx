/** What the open room does with the board on the stage: the drawers it has. */
import type { ReactNode } from 'react';
import { type DrawerId, type RoomId, useView } from '../state/view';
import css from './StageTools.module.css';

const TOOLS: Readonly<Record<RoomId, readonly { readonly id: DrawerId; readonly label: string }[]>> = {
  shape: [],
  plan: [{ id: 'sizes', label: 'Sizes' }, { id: 'layers', label: 'Layers' }, { id: 'measure', label: 'Measure' }, { id: 'atBench', label: 'At the bench' }],
  bench: [],
  build: [{ id: 'readings', label: 'All readings' }, { id: 'layers', label: 'Layers' }, { id: 'measure', label: 'Measure' }, { id: 'atBench', label: 'At the bench' }],
};

function Eye() {
  return (
    <svg width="18" height="14" viewBox="0 0 18 14" aria-hidden="true" fill="none" stroke="currentColor" strokeWidth="1.5">
      <path d="M1 7Q9 -4 17 7Q9 18 1 7Z" />
      <circle cx="9" cy="7" r="2.4" fill="currentColor" />
    </svg>
  );
}

function Ruler() {
  return (
    <svg width="20" height="12" viewBox="0 0 20 12" aria-hidden="true" fill="none" stroke="currentColor" strokeWidth="1.5">
      <path d="M1 1.5H19V10.5H1ZM5 1.5V5M9 1.5V6M13 1.5V5M17 1.5V5" />
    </svg>
  );
}

/** Tools of the picture itself are drawn. */
const ICONS: Partial<Record<DrawerId, { readonly drawn: ReactNode; readonly title: string }>> = {
  layers: { drawn: <Eye />, title: 'Layers: what the picture shows' },
  measure: { drawn: <Ruler />, title: 'Measure between two places' },
};

export function StageTools() {
  const room = useView((state) => state.room);
  const drawer = useView((state) => state.drawer);
  const open = useView((state) => state.open);
  return (
    <div className={css.tools} role="toolbar" aria-label="Tools of the stage">
      {TOOLS[room].map(({ id, label }) => {
        const icon = ICONS[id];
        return (
          <button key={id} type="button" className="ruled" aria-label={icon && label} title={icon?.title} aria-expanded={drawer === id} onClick={() => open(drawer === id ? null : id)}>
            {icon?.drawn ?? label}
          </button>
        );
      })}
    </div>
  );
}
