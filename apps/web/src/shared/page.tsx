import { type ReactNode, useEffect, useRef } from 'react';
import { useWords } from '../words/index.ts';

/** Where the last page was shown; the first one leaves the focus where the browser put it. */
let shownAt = '';

interface Props {
  readonly title: string;
  readonly children: ReactNode;
  readonly eyebrow?: ReactNode;
  readonly heading?: ReactNode;
}

/** A page: sets the document's title and takes the focus, so that keys and readers start at its heading. */
export function Page({ title, children, eyebrow, heading }: Props) {
  const w = useWords();
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = `${title} · ${w.app.name}`;
  }, [title, w.app.name]);
  useEffect(() => {
    if (shownAt !== '' && shownAt !== location.pathname) head.current?.focus({ preventScroll: true });
    shownAt = location.pathname;
  }, []);
  return (
    <>
      {eyebrow !== undefined && <div className="eyebrow">{eyebrow}</div>}
      <h1 tabIndex={-1} ref={head}>
        {heading ?? title}
      </h1>
      {children}
    </>
  );
}
