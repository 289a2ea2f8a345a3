// Cast shadow: the board laid flat on the bench, shifted away from the window.
uniform float floorHeight;

varying vec2 vFloor;

void main() {
  vec3 p = position;
  float rise = p.z - floorHeight;
  p.xy += rise * vec2(0.5, -0.45);
  p.z = floorHeight;
  vFloor = p.xy;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(p, 1.0);
}
