// What the graphics card runs: faces lit, with the grain of the wood, and lines a hair nearer than the faces.

const PLACED = `#version 300 es
layout(location = 0) in vec3 place;
layout(location = 4) in float moving;
uniform mat4 pose, view, lens;
uniform float shift;
`;

export const FACE_VERTEX = `${PLACED}layout(location = 1) in vec3 normal;
layout(location = 2) in vec3 colour;
layout(location = 3) in float grain;
out vec3 wood, seen, tint, facing, world;
out float grained;
void main() {
  wood = place + vec3(moving * shift, 0.0, 0.0);
  vec4 there = pose * vec4(wood, 1.0);
  world = there.xyz;
  vec4 eye = view * there;
  seen = eye.xyz;
  facing = mat3(view) * mat3(pose) * normal;
  tint = colour;
  grained = grain;
  gl_Position = lens * eye;
}`;

export const FACE_FRAGMENT = `#version 300 es
precision highp float;
in vec3 wood, seen, tint, facing, world;
in float grained;
uniform float opacity, cut, even, floorz;
out vec4 shown;
float ring(float r) {
  float phase = fract(r / 3.4 + 0.35 * sin(r * 0.21) + 0.2 * sin(r * 0.57 + 1.0));
  float line = phase * phase * phase;
  return mix(line, 0.25, clamp(fwidth(r) / 2.0, 0.0, 1.0));
}
void main() {
  if (wood.x > cut || world.z < floorz) discard;
  vec3 n = normalize(facing);
  vec3 base = tint;
  if (!gl_FrontFacing) n = -n;
  if (grained > 0.0) {
    float wander = 1.3 * sin(wood.x * 0.011 + wood.y * 0.02) + 0.5 * sin(wood.x * 0.037 + 1.7);
    float r = length(vec2(wood.y + 61.0, 1.5 * wood.z + 38.0)) + wander;
    base *= 1.0 - grained * (0.20 * ring(r) + 0.03 * sin(wood.x * 0.9 + 7.0 * sin(r)));
  }
  vec3 back = normalize(-seen);
  float key = max(0.0, dot(n, normalize(vec3(0.35, 0.85, 0.65))));
  float fill = max(0.0, dot(n, normalize(vec3(-0.5, 0.1, 1.0))));
  float light = mix(0.50 + 0.36 * key + 0.22 * fill, 1.0, even * (1.0 - step(0.001, grained)));
  float shine = 0.10 * pow(max(0.0, dot(reflect(-normalize(vec3(0.35, 0.85, 0.65)), n), back)), 24.0);
  shown = vec4(base * light + shine * (1.0 - even), opacity);
}`;

export const LINE_VERTEX = `${PLACED}out float along;
void main() {
  vec3 wood = place + vec3(moving * shift, 0.0, 0.0);
  along = wood.x;
  vec4 eye = view * pose * vec4(wood, 1.0);
  vec4 there = lens * eye, nearer = lens * vec4(eye.xyz * 0.9985, 1.0);
  // at its place in the picture, but a hair nearer, so that a line wins over the faces it lies on
  gl_Position = vec4(there.xy, nearer.z / nearer.w * there.w, there.w);
}`;

export const LINE_FRAGMENT = `#version 300 es
precision highp float;
in float along;
uniform float opacity, cut;
uniform vec3 ink;
out vec4 shown;
void main() {
  if (along > cut) discard;
  shown = vec4(ink, opacity);
}`;
