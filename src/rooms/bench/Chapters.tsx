/** A page of the bench: its heading, and lists under each other with an index that leads to each. */
import { type ReactNode, useRef } from 'react';
import './bench.css';

interface ChaptersProps {
  readonly title: string;
  /** What the page is about, in a sentence. */
  readonly says?: ReactNode;
  /** How far it has come. */
  readonly state?: ReactNode;
  readonly chapters: readonly { readonly title: string; readonly body: ReactNode }[];
}

export function Chapters({ title, says, state, chapters }: ChaptersProps) {
  const heads = useRef(new Map<string, HTMLHeadingElement>());
  const go = (chapter: string) => {
    const head = heads.current.get(chapter);
    head?.scrollIntoView({ block: 'start' });
    head?.focus({ preventScroll: true });
  };
  return (
    <>
      <header className="page-head">
        <h2>{title}</h2>
        {says && <p>{says}</p>}
        {state && <p className="page-state" role="status">{state}</p>}
      </header>
      {chapters.length > 1 && (
        <nav className="page-index" aria-label={`On this page: ${title}`}>
          {chapters.map((chapter) => <button key={chapter.title} type="button" className="go" onClick={() => go(chapter.title)}>{chapter.title}</button>)}
        </nav>
      )}
      {chapters.map((chapter, i) => (
        <section key={chapter.title} className="chapter" aria-label={chapter.title}>
          <h3
            className={i === 0 ? 'spoken' : undefined} tabIndex={-1}
            ref={(head) => {
              if (head) heads.current.set(chapter.title, head);
              else heads.current.delete(chapter.title);
            }}
          >
            {chapter.title}
          </h3>
          {chapter.body}
        </section>
      ))}
    </>
  );
}
