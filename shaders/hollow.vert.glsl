// Hollow: place in the board, and seen from the eye.
varying vec3 vPlace;
varying float vAlong;

#include <clipping_planes_pars_vertex>

void main() {
  vAlong = position.x * modelMatrix[0].x;
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  vPlace = mvPosition.xyz;
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
