// Bevel map: hands the kernel's bevel at each vertex to the colours.
attribute float bevel; // radians

varying float vBevel;
varying vec3 vFacing;

void main() {
  vBevel = bevel;
  vFacing = mat3(modelMatrix) * normal;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
