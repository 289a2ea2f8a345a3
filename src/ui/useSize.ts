/** The size of a frame on the page, watched. */
import { useEffect, useRef, useState } from 'react';

/** A ref for the frame, and its inside in CSS px, rounded down where `whole`; null while it has none. */
export function useSize(whole = false) {
  const frame = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<{ width: number; height: number } | null>(null);
  useEffect(() => {
    if (!frame.current) return;
    const watcher = new ResizeObserver(([{ contentRect }]) => {
      const [width, height] = [contentRect.width, contentRect.height].map((px) => (whole ? Math.floor(px) : px));
      setSize(width > 0 && height > 0 ? { width, height } : null);
    });
    watcher.observe(frame.current);
    return () => watcher.disconnect();
  }, [whole]);
  return { frame, size };
}
