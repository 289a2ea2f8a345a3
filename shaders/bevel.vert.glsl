// Bevel map: hands the kernel's bevel at each vertex to the colours.
attribute float bevel; // radians

varying float vBevel;
varying vec3 vFacing;

#include <clipping_planes_pars_vertex>

void main() {
  vBevel = bevel;
  vFacing = mat3(modelMatrix) * normal;
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
