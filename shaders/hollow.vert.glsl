// Hollow: place and facing seen from the eye.
varying vec3 vFacing;
varying float vAlong;

#include <clipping_planes_pars_vertex>

void main() {
  vAlong = position.x;
  vFacing = normalMatrix * normal;
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
