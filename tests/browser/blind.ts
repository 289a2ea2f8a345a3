/**
 * In the page: a WebGL context that draws nothing and reads nothing back, for tests which look at no pixel of the stage.
 * What three asks before it draws is answered as a plain machine would; all other calls do nothing, so no shader is
 * compiled and no buffer is filled. Scene, camera, frames, labels and picking are three's and the page's own, as ever.
 */
export function drawBlind(): void {
  const { prototype: real } = WebGL2RenderingContext;
  const own = HTMLCanvasElement.prototype.getContext;
  const parameter = (name: number) => {
    if (name === real.VERSION) return 'WebGL 2.0';
    if (name === real.SHADING_LANGUAGE_VERSION) return 'WebGL GLSL ES 3.00';
    if (name === real.VIEWPORT || name === real.SCISSOR_BOX) return new Int32Array(4);
    return name === real.MAX_TEXTURE_SIZE ? 8192 : name === real.MAX_VERTEX_UNIFORM_VECTORS ? 1024 : 16;
  };
  const counts: readonly number[] = [real.ACTIVE_UNIFORMS, real.ACTIVE_ATTRIBUTES, real.ACTIVE_UNIFORM_BLOCKS];
  const answers: Record<string, (...asked: never[]) => unknown> = {
    getParameter: parameter,
    getContextAttributes: () => ({ alpha: true, antialias: false, depth: true, stencil: false, premultipliedAlpha: true, preserveDrawingBuffer: false }),
    getShaderPrecisionFormat: () => ({ rangeMin: 127, rangeMax: 127, precision: 23 }),
    getShaderParameter: () => true,
    getProgramParameter: (_: unknown, name: number) => (counts.includes(name) ? 0 : true),
    getShaderInfoLog: () => '', getProgramInfoLog: () => '',
    getExtension: () => null, getSupportedExtensions: () => [],
    getError: () => real.NO_ERROR, isContextLost: () => false, checkFramebufferStatus: () => real.FRAMEBUFFER_COMPLETE,
  };
  const nothing = () => undefined;
  const some = () => ({});
  const blind = Object.create(real, Object.fromEntries(Object.entries(Object.getOwnPropertyDescriptors(real))
    .filter(([name, { value }]) => name !== 'constructor' && typeof value === 'function')
    .map(([name]) => [name, { value: answers[name] ?? (name.startsWith('create') ? some : nothing) }])));
  const made = new WeakMap<HTMLCanvasElement, object>();
  const contextOf = (canvas: HTMLCanvasElement) => Object.create(blind, {
    canvas: { value: canvas },
    drawingBufferWidth: { get: () => canvas.width }, drawingBufferHeight: { get: () => canvas.height },
    drawingBufferColorSpace: { value: 'srgb', writable: true }, unpackColorSpace: { value: 'srgb', writable: true },
  });
  HTMLCanvasElement.prototype.getContext = function context(this: HTMLCanvasElement, kind: string, ...more: unknown[]) {
    if (kind !== 'webgl2') return Reflect.apply(own, this, [kind, ...more]);
    const context = made.get(this) ?? contextOf(this);
    made.set(this, context);
    return context;
  } as typeof own;
}
