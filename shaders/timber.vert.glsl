// Timber: passes the place in the board and the way of the grain on.
attribute float run;

// 0: grain along the strip's run; 1: along the board; 2: across the board.
uniform int grainWay;

varying vec3 vGrain; // along, across, across; mm
#ifdef SMOOTH
varying vec3 vFacing;
#else
varying vec3 vPlace; // on the stage
#endif

#include <clipping_planes_pars_vertex>

void main() {
  // Port is starboard's mirror image, but the timber's grain runs on through both.
  float y = position.y * modelMatrix[1].z;
  if (grainWay == 0) vGrain = vec3(run, position.z, 0.0);
  else if (grainWay == 1) vGrain = vec3(position.x, y, position.z);
  else vGrain = vec3(y, position.z, position.x);
#ifdef SMOOTH
  vFacing = mat3(modelMatrix) * normal;
#else
  vPlace = (modelMatrix * vec4(position, 1.0)).xyz;
#endif
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
