// Timber: passes the place in the board and the way of the grain on.
attribute float run;

// 0: grain along the strip's run; 1: along the board; 2: across the board.
uniform int grainWay;

varying vec3 vGrain; // along, across, across; mm
varying vec3 vFacing;

#include <clipping_planes_pars_vertex>

void main() {
  if (grainWay == 0) vGrain = vec3(run, position.z, 0.0);
  else if (grainWay == 1) vGrain = vec3(position.x, position.y, position.z);
  else vGrain = vec3(position.y, position.z, position.x);
  vFacing = mat3(modelMatrix) * normal;
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
