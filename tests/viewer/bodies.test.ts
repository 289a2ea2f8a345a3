/** Bodies on their way to the page: whole on arrival, and what hangs them together sent once. The project's own rules, no outside source. */
import { expect, test } from 'vitest';
import { planBoard } from '../../geometry/plan';
import { meshBoard } from '../../geometry/solid/board';
import { bodyReceiver, bodySender } from '../../src/work/bodies';
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
    const { mesh, ...rest } = wanted[i];
    expect(body).toMatchObject(rest);
    expect(Object.keys(body.mesh).toSorted()).toEqual(Object.keys(mesh).toSorted());
    // Bytes: to compare numbers one by one takes a minute.
    for (const [name, array] of Object.entries(mesh)) expect(bytes(body.mesh[name as keyof typeof mesh]).equals(bytes(array)), `${body.id} ${name}`).toBe(true);
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
