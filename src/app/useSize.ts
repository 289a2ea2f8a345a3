/** The size of a frame on the page, watched. */
import { useEffect, useRef, useState } from 'react';

/** A ref for the frame, and its inside in whole CSS px; null while it has none. */
export function useSize() {
  const frame = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<{ width: number; height: number } | null>(null);
  useEffect(() => {
    if (!frame.current) return;
    const watcher = new ResizeObserver(([{ contentRect }]) => {
      const [width, height] = [Math.floor(contentRect.width), Math.floor(contentRect.height)];
      setSize(width > 0 && height > 0 ? { width, height } : null);
    });
    watcher.observe(frame.current);
    return () => watcher.disconnect();
  }, []);
  return { frame, size };
}
