// Timber: early and late wood in drawn-out rings, under one window light and the bench's reflection.
uniform vec3 early;
uniform vec3 late;
uniform float opacity;
uniform float dim;

varying vec3 vGrain;
#ifdef SMOOTH
varying vec3 vFacing;
#else
varying vec3 vPlace;
#endif

float hash(vec2 p) {
  vec3 q = fract(vec3(p.xyx) * 0.1031);
  q += dot(q, q.yzx + 33.33);
  return fract((q.x + q.y) * q.z);
}

float noise(vec2 p) {
  vec2 cell = floor(p);
  vec2 f = fract(p);
  f = f * f * (3.0 - 2.0 * f);
  return mix(
    mix(hash(cell), hash(cell + vec2(1.0, 0.0)), f.x),
    mix(hash(cell + vec2(0.0, 1.0)), hash(cell + vec2(1.0, 1.0)), f.x), f.y);
}

#include <clipping_planes_pars_fragment>

void main() {
  #include <clipping_planes_fragment>
  float across = vGrain.y + 0.37 * vGrain.z;
  float drift = 3.5 * noise(vec2(vGrain.x * 0.006, across * 0.03)) + 0.6 * noise(vec2(vGrain.x * 0.03, across * 0.2));
  float ring = across * 0.16 + drift;
  float saw = fract(ring);
  float band = smoothstep(0.25, 0.92, saw) * (1.0 - smoothstep(0.92, 1.0, saw));
  // Rings finer than a pixel fade to their mean rather than flicker.
  band = mix(band, 0.38, smoothstep(0.25, 0.8, fwidth(ring)));
  float pore = noise(vec2(vGrain.x * 0.05, across * 2.3)) - 0.5;
  pore *= 1.0 - smoothstep(0.2, 0.9, fwidth(across * 2.3));
  vec3 wood = mix(early, late, clamp(0.75 * band + 0.22 * pore + 0.12, 0.0, 1.0));

#ifdef SMOOTH
  vec3 n = normalize(vFacing) * (gl_FrontFacing ? 1.0 : -1.0);
#else
  // The facet's own normal, on the eye's side of it.
  vec3 n = normalize(cross(dFdx(vPlace), dFdy(vPlace)));
#endif
  float sky = 0.5 + 0.5 * n.y;
  float window = max(0.0, dot(n, normalize(vec3(-0.45, 0.75, 0.5))));
  vec3 light = mix(vec3(0.62, 0.57, 0.53), vec3(0.86, 0.87, 0.88), sky) + 0.3 * window * vec3(1.0, 0.95, 0.85);
  gl_FragColor = vec4(wood * light * dim, opacity);
}
