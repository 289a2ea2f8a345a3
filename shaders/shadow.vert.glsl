// Cast shadow: the board laid flat on the bench, shifted away from the window.
uniform float floorHeight;

varying vec2 vFloor;

void main() {
  vec4 p = modelMatrix * vec4(position, 1.0);
  float rise = p.y - floorHeight;
  p.xz += rise * vec2(0.5, -0.45);
  p.y = floorHeight;
  vFloor = p.xz;
  gl_Position = projectionMatrix * viewMatrix * p;
}
