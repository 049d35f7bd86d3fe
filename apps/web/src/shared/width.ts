import { type RefCallback, useCallback, useState } from 'react';

/** Width of an element in CSS pixels, kept up to date from when it appears; 0 before the first measurement. */
export function useWidth<T extends HTMLElement>(): readonly [RefCallback<T>, number] {
  const [width, setWidth] = useState(0);
  const ref = useCallback((element: T) => {
    const measure = () => setWidth(Math.floor(element.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}
