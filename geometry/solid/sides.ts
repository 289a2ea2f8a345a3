/** A body on the sides where it stands. */
import type { Body } from '../types';

/** A starboard body, and its twin to port, which is its mirror image (y negated) and is given the same mesh; one that spans both sides is itself alone. */
export const onEachSide = <B extends Pick<Body, 'id' | 'side'>>(body: B): B[] =>
  body.side === 'centre' ? [body] : [body, { ...body, id: body.id.replace(/starboard$/, 'port'), side: 'port' }];
