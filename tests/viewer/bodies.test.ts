/** Bodies on their way to the page: whole on arrival, and what hangs them together sent once. The project's own rules, no outside source. */
import { expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { ALONG_FROM, bodyReceiver, bodySender } from '../../src/work/bodies';
import { inkEdges } from '../../src/work/ink';
import { seedDesign } from '../geometry/boards';

const board = () => structuredClone(seedDesign('round-tail-175.board.json'));
const bytes = (array: Float32Array | Uint32Array = new Float32Array()) => Buffer.from(array.buffer, array.byteOffset, array.byteLength);
const bodiesOf = (design: ReturnType<typeof board>) => meshBoard(planBoard(design));

test('arrive whole, and keep the very triangles and ink lines of the plan before where these stay', () => {
  const [send, receive] = [bodySender(), bodyReceiver()];
  const over = (bodies: ReturnType<typeof bodiesOf>) => {
    const sent = structuredClone(send(bodies));
    return { sent, got: receive(sent) };
  };
  const moved = board();
  moved.lines.thickness.points[2].v += 0.4;
  const first = over(bodiesOf(board()));
  const wanted = bodiesOf(moved);
  const second = over(wanted);
  expect(first.sent.every(({ hanging }) => hanging)).toBe(true);
  second.got.forEach((body, i) => {
    const { mesh: { positions, indices, run, normals, bevel }, ...rest } = wanted[i];
    expect(body).toMatchObject(rest);
    expect(body.mesh.normals === undefined).toBe(normals === undefined);
    // Bytes: to compare numbers one by one takes a minute.
    expect(bytes(body.mesh.indices).equals(bytes(indices)), body.id).toBe(true);
    expect(bytes(body.mesh.bevel).equals(bytes(bevel)), body.id).toBe(true);
    // A step of 16 bits is the board's length by 64 000; a corner lies half of one off at most.
    const { grid: { along, across }, corners } = body.mesh;
    expect(Math.max(along, across)).toBeLessThan(0.032);
    let [off, turned] = [0, 0];
    for (let k = 0; 3 * k < positions.length; k++) {
      const at = (d: number) => corners[4 * k + d];
      const figures = [positions[3 * k] - along * (at(0) + ALONG_FROM), run ? run[k] - along * (at(3) + ALONG_FROM) : 0];
      for (const miss of figures) off = Math.max(off, Math.abs(miss) / along);
      for (const d of [1, 2]) off = Math.max(off, Math.abs(positions[3 * k + d] - across * at(d)) / across);
      for (const d of [0, 1, 2]) if (normals && body.mesh.normals) turned = Math.max(turned, Math.abs(normals[3 * k + d] - body.mesh.normals[4 * k + d] / 127));
    }
    // And the rounding of figures of 32 bits.
    expect(off, body.id).toBeLessThan(0.52);
    expect(turned, body.id).toBeLessThan(0.51 / 127);
    expect(body.ink.length, body.id).toBeGreaterThan(0);
  });
  const strips = second.got.filter(({ kind }) => kind === 'sole' || kind === 'outer-skin' || kind.endsWith('skin'));
  expect(strips.length).toBeGreaterThan(5);
  for (const strip of strips) {
    const before = first.got.find(({ id }) => id === strip.id);
    expect(strip.mesh.indices === before?.mesh.indices && strip.ink === before.ink, strip.id).toBe(true);
  }
  // Most of the triangles are those of the plan before.
  const again = second.sent.filter(({ hanging }) => hanging).length;
  expect(again).toBeLessThan(second.sent.length / 4);
});

test('a thread that begins anew sends all again, and what was never sent is an error', () => {
  const receive = bodyReceiver();
  const bodies = bodiesOf(board());
  receive(structuredClone(bodySender()(bodies)));
  const got = receive(structuredClone(bodySender()(bodies)));
  expect(bytes(got[0].ink).equals(bytes(inkEdges(bodies[0].mesh)))).toBe(true);
  const send = bodySender();
  send(bodies);
  expect(() => bodyReceiver()(send(bodies))).toThrow(/without its triangles/);
});

test('what two threads send alike is one thing on the page; what differs is each thread\'s own', () => {
  const last = new Map();
  const threads = [0, 1].map(() => ({ send: bodySender(), receive: bodyReceiver(last) }));
  const bodies = bodiesOf(board());
  const over = (thread: number, of = bodies) => threads[thread].receive(structuredClone(threads[thread].send(of)));
  const [first, second] = [over(0), over(1)];
  second.forEach((body, i) => expect(body.mesh.indices === first[i].mesh.indices && body.ink === first[i].ink, body.id).toBe(true));
  const turned = bodies.map((body, i) => (i > 0 ? body : { ...body, mesh: { ...body.mesh, indices: body.mesh.indices.toReversed() } }));
  const third = over(1, turned);
  expect(bytes(third[0].mesh.indices).equals(bytes(turned[0].mesh.indices))).toBe(true);
  expect(over(0)[0].mesh.indices).toBe(first[0].mesh.indices);
  expect(over(1, turned)[0].mesh.indices).toBe(third[0].mesh.indices);
});
