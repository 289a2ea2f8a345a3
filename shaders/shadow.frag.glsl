// Cast shadow as a draughtsman's hatching; soft, as an even tone.
uniform vec3 ink;
uniform float strength;
uniform float soft;

varying vec2 vFloor;

void main() {
  float k = (vFloor.x + vFloor.y) / 9.0;
  float width = fwidth(k);
  float stroke = 1.0 - smoothstep(0.0, max(width, 1e-6) * 1.2, abs(fract(k) - 0.5) - 0.03);
  float tone = mix(stroke, 0.3, max(soft, smoothstep(0.3, 0.8, width)));
  gl_FragColor = vec4(ink, strength * (0.35 + 0.65 * tone));
}
