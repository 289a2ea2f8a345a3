// Hollow: air drawn as a glow, clearer face on and denser along its edges.
uniform vec3 glow;
uniform float strength;

varying vec3 vPlace;
varying float vAlong;

#include <clipping_planes_pars_fragment>

void main() {
  #include <clipping_planes_fragment>
  float edge = 1.0 - abs(normalize(cross(dFdx(vPlace), dFdy(vPlace))).z);
  float wave = 0.92 + 0.08 * sin(vAlong * 0.05);
  gl_FragColor = vec4(glow * (0.9 + 0.25 * edge), strength * wave * mix(0.55, 1.0, edge));
}
