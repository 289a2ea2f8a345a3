// Bevel map: hands the kernel's bevel at each vertex to the colours.
attribute float bevel; // radians

varying float vBevel;
varying vec3 vPlace; // on the stage

#include <clipping_planes_pars_vertex>

void main() {
  vBevel = bevel;
  vPlace = (modelMatrix * vec4(position, 1.0)).xyz;
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
