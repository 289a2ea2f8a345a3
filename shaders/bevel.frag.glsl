// Bevel map: the colour of the bevel from the shared ramp, unlit, so that a pixel can be read against the
// legend; a contour line at each step. Faces that are not the strip's top are dimmed.
uniform sampler2D ramp;
uniform float low;
uniform float high;
uniform float contour;
uniform float rampSize;
uniform vec3 ink;

varying float vBevel;
varying vec3 vPlace;

#include <clipping_planes_pars_fragment>

void main() {
  #include <clipping_planes_fragment>
  float t = clamp((vBevel - low) / (high - low), 0.0, 1.0);
  vec3 colour = texture2D(ramp, vec2((t * (rampSize - 1.0) + 0.5) / rampSize, 0.5)).rgb;
  if (normalize(cross(dFdx(vPlace), dFdy(vPlace))).y < 0.6) {
    gl_FragColor = vec4(colour * 0.72, 1.0);
    return;
  }
  float k = vBevel / contour;
  float off = abs(fract(k - 0.5) - 0.5) / max(fwidth(k), 1e-6);
  gl_FragColor = vec4(mix(colour, ink, 0.9 * (1.0 - smoothstep(0.6, 1.3, off))), 1.0);
}
