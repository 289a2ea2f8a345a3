/** What is said in a corner of the page, over all but a notice. */
import type { ReactNode } from 'react';
import css from './Corner.module.css';

export function Corner({ role, children }: { readonly role: 'status' | 'alert'; readonly children: ReactNode }) {
  return <div className={css.corner} role={role}>{children}</div>;
}
