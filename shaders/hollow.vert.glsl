// Hollow: place and facing seen from the eye.
varying vec3 vFacing;
varying float vAlong;

void main() {
  vAlong = position.x;
  vFacing = normalMatrix * normal;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
