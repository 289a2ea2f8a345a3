/** A part that arrives: it moves in from where it would be brought to its place. */
import { useFrame, useThree } from '@react-three/fiber';
import { type ReactNode, useEffect, useRef } from 'react';
import { type Group, MathUtils } from 'three';
import type { Body } from '../../geometry/types';

const SECONDS = 0.7;
/** How far a strip comes from outboard, and a skin or frame from above, mm. */
const WAY = { strip: 150, lid: 320 } as const;

/** Offset in the kernel's frame at the beginning. */
function offset({ kind, side }: Pick<Body, 'kind' | 'side'>): readonly [number, number, number] {
  const sign = side === 'port' ? -1 : 1;
  if (kind === 'sole' || kind === 'row' || kind === 'outer-skin' || kind === 'round') return [0, sign * WAY.strip, 0];
  if (kind === 'cap') return [0, (sign * WAY.strip) / 2, WAY.strip / 2];
  return [0, 0, WAY.lid];
}

interface ArrivingProps {
  readonly body: Pick<Body, 'kind' | 'side'>;
  /** The step it arrives in: with another step it arrives again. */
  readonly step: number;
  readonly children: ReactNode;
}

export function Arriving({ body, step, children }: ArrivingProps) {
  const invalidate = useThree((state) => state.invalidate);
  const group = useRef<Group>(null);
  const done = useRef(1);
  useEffect(() => {
    done.current = window.matchMedia('(prefers-reduced-motion: reduce)').matches ? 1 : 0;
    invalidate();
  }, [step, invalidate]);
  useFrame((_, seconds) => {
    if (!group.current) return;
    if (done.current < 1) {
      done.current = Math.min(1, done.current + Math.min(seconds, 0.1) / SECONDS);
      invalidate();
    }
    const left = 1 - MathUtils.smootherstep(done.current, 0, 1);
    const [x, y, z] = offset(body);
    group.current.position.set(x * left, y * left, z * left);
  });
  return <group ref={group}>{children}</group>;
}
