// Cast shadow: the board laid flat on the bench, shifted away from the window.
uniform float floorHeight;

varying vec2 vFloor;

void main() {
  vec3 p = position;
  float rise = p.z - floorHeight;
  // Port is starboard's mirror image, but its shadow falls the same way.
  float side = modelMatrix[1].z;
  p.xy += rise * vec2(0.5, -0.45 * side);
  p.z = floorHeight;
  vFloor = vec2(p.x, p.y * side);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(p, 1.0);
}
