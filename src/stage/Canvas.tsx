/**
 * The scene's canvas in the page. The scene library's own one takes along all of three, as elements that might be
 * asked for; this one knows the three kinds that the stage draws, and the rest stays out of the first load.
 */
import { createRoot, events, extend, type ReconcilerRoot } from '@react-three/fiber';
import { Component, type ReactNode, StrictMode, useInsertionEffect, useLayoutEffect, useRef, useState } from 'react';
import { Group, LineSegments, Mesh } from 'three';
import { noPicture } from '../work/picture';

extend({ Group, LineSegments, Mesh });

const FILLS = { position: 'absolute', inset: 0, width: '100%', height: '100%', overflow: 'hidden', pointerEvents: 'auto', touchAction: 'none' } as const;
const FRAME = { width: '100%', height: '100%' } as const;
const BLOCK = { display: 'block' } as const;

const SCENE = {
  events, orthographic: true, legacy: true, linear: true, flat: true, frameloop: 'demand', dpr: [1, 2] as [number, number],
  camera: { near: 1, far: 14000, position: [2000, 3600, 4800] as [number, number, number] },
  gl: { antialias: true, powerPreference: 'high-performance', localClippingEnabled: true },
} as const;

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Tells the page what fails in the scene: an error does not reach out of its root by itself. */
class Fault extends Component<{ readonly tell: (error: unknown) => void; readonly children: ReactNode }> {
  override state = { failed: false };

  static getDerivedStateFromError() {
    return { failed: true };
  }

  override componentDidCatch(error: unknown) {
    this.props.tell(error);
  }

  override render() {
    return this.state.failed ? null : this.props.children;
  }
}

/** Size of a frame in CSS px, as soon as it stands in the page and whenever it changes; null while it has none. */
function useFrameSize() {
  const frame = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<Size | null>(null);
  useLayoutEffect(() => {
    const node = frame.current;
    if (!node) return undefined;
    const measure = () => {
      const { width, height } = node.getBoundingClientRect();
      // A stage that has no room is not drawn until it gets some.
      if (width === 0 || height === 0) noPicture();
      setSize((was) => (was?.width === width && was.height === height ? was : width > 0 && height > 0 ? { width, height } : was));
    };
    measure();
    const watcher = new ResizeObserver(measure);
    watcher.observe(node);
    return () => watcher.disconnect();
  }, []);
  return { frame, size };
}

interface StageCanvasProps {
  readonly label: string;
  /** Id of the words that say what it shows. */
  readonly words: string;
  /** The scene. No context of the page reaches into it. */
  readonly children: ReactNode;
}

/** A picture that fills its place. What fails in it, its making or its scene, fails here. */
export function StageCanvas({ label, words, children }: StageCanvasProps) {
  const outer = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const root = useRef<ReconcilerRoot<HTMLCanvasElement> | null>(null);
  const { frame, size } = useFrameSize();
  const [failed, setFailed] = useState<{ readonly error: unknown } | null>(null);
  if (failed) throw failed.error;
  // An insertion effect is not run again by strict mode: only the canvas's end ends its root.
  useInsertionEffect(() => () => {
    root.current?.unmount();
    root.current = null;
  }, []);
  useLayoutEffect(() => {
    if (!size || !canvas.current) return;
    const tell = (error: unknown) => setFailed({ error });
    root.current ??= createRoot(canvas.current);
    root.current.configure({
      ...SCENE, size: { ...size, top: 0, left: 0 },
      onCreated: (state) => {
        if (outer.current) state.events.connect?.(outer.current);
      },
    }).catch(tell);
    root.current.render(<StrictMode><Fault tell={tell}>{children}</Fault></StrictMode>);
  });
  return (
    <div ref={outer} style={FILLS} role="img" aria-describedby={words} aria-label={label}>
      <div ref={frame} style={FRAME}><canvas ref={canvas} style={BLOCK} /></div>
    </div>
  );
}
