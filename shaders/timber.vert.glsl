// Timber: passes the place in the board and the way of the grain on.
attribute vec4 corner; // position and run

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
  // From steps of the grid (ALONG_FROM in bodies.ts). Port is starboard's mirror image, but the timber's grain runs on through both.
  float along = modelMatrix[0].x;
  float x = (position.x + 32000.0) * along;
  float y = position.y * modelMatrix[1].z;
  float z = position.z * modelMatrix[2].y;
  if (grainWay == 0) vGrain = vec3((corner.w + 32000.0) * along, z, 0.0);
  else if (grainWay == 1) vGrain = vec3(x, y, z);
  else vGrain = vec3(y, z, x);
#ifdef SMOOTH
  vFacing = vec3(normal.x, normal.z, normal.y * sign(modelMatrix[1].z));
#else
  vPlace = (modelMatrix * vec4(position, 1.0)).xyz;
#endif
  vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
  #include <clipping_planes_vertex>
  gl_Position = projectionMatrix * mvPosition;
}
