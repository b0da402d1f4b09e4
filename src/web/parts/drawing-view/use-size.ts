import { type RefObject, useLayoutEffect, useState } from 'react';
import type { SizePx } from './view-box.ts';

/** The size of an element, followed as it changes. */
export function useSize(place: RefObject<HTMLElement | null>): SizePx {
  const [size, setSize] = useState<SizePx>({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = place.current;
    if (!element) return;
    const measure = () => {
      const { clientWidth: width, clientHeight: height } = element;
      setSize((old) => (old.width === width && old.height === height ? old : { width, height }));
    };
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    measure();
    return () => watch.disconnect();
  }, [place]);
  return size;
}
