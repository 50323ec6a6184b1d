import { useLayoutEffect, useRef, useState } from 'react';

/** The size of an element, px, followed as it changes. */
export function useSize(): [React.RefObject<HTMLDivElement | null>, { width: number; height: number }] {
  const box = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = box.current!;
    const take = (): void => setSize({ width: element.clientWidth, height: element.clientHeight });
    const watch = new ResizeObserver(take);
    watch.observe(element);
    take();
    return () => watch.disconnect();
  }, []);
  return [box, size];
}
