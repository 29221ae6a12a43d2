/**
 * How solids are drawn: lit calmly, from over the viewer's left shoulder, round parts darker towards their outline, no
 * shadows. What lies in front of a cut is left out.
 */

const PLACED = `
in vec3 position;
uniform mat4 modelMatrix, viewMatrix, projectionMatrix;
out vec3 world;
vec4 seenFrom(mat4 projection) {
  vec4 placed = modelMatrix * vec4(position, 1.0);
  world = placed.xyz;
  return projection * viewMatrix * placed;
}`;

const CUT_OFF = `
precision highp float;
uniform vec4 cut;
in vec3 world;
float left() { return dot(cut.xyz, world) + cut.w; }`;

/** Faces. */
export const SURFACE = {
  vertexShader: `${PLACED}
in vec3 normal;
uniform mat3 normalMatrix;
out vec3 seen, square;
void main() {
  gl_Position = seenFrom(projectionMatrix);
  seen = (viewMatrix * vec4(world, 1.0)).xyz;
  square = normalMatrix * normal;
}`,
  fragmentShader: `${CUT_OFF}
uniform vec3 fill, paper, ink;
uniform float alpha, fade, dark;
in vec3 seen, square;
out vec4 colour;
const vec3 LIGHT = normalize(vec3(-0.35, 0.62, 0.70));
void main() {
#ifdef CUT
  if (left() < 0.0) discard;
#endif
  vec3 n = normalize(square);
  float turned = abs(dot(n, normalize(-seen)));
  vec3 deep = mix(ink, paper, dark);
  vec3 shaded = mix(fill, deep, 0.5 * (0.5 - 0.5 * dot(n, LIGHT)));
  vec3 shown = mix(mix(shaded, deep, 0.5), shaded, smoothstep(0.02, 0.36, turned));
  colour = vec4(mix(shown, paper, fade), mix(max(alpha, 0.55), alpha, smoothstep(0.0, 0.4, turned)));
}`,
};

/** Edges: they lie a little nearer than the faces that meet in them. */
export const EDGES = {
  vertexShader: `${PLACED}
void main() {
  gl_Position = seenFrom(projectionMatrix);
  gl_Position.z -= 0.0006 * gl_Position.w;
}`,
  fragmentShader: `${CUT_OFF}
uniform vec3 line, paper;
uniform float fade, alpha;
out vec4 colour;
void main() {
#ifdef CUT
  if (left() < -0.05) discard;
#endif
  colour = vec4(mix(line, paper, fade), alpha);
}`,
};

/** What is only counted. */
export const COUNT = {
  vertexShader: `${PLACED}
void main() { gl_Position = seenFrom(projectionMatrix); }`,
  fragmentShader: `${CUT_OFF}
out vec4 colour;
void main() {
  if (left() < 0.0) discard;
  colour = vec4(1.0);
}`,
};

/** A section, hatched: a piece of the plane of the cut. */
export const CAP = {
  vertexShader: COUNT.vertexShader,
  fragmentShader: `
precision highp float;
uniform vec4 cut;
uniform vec3 fill, full, paper;
uniform float fade;
in vec3 world;
out vec4 colour;
void main() {
  float across = dot(world, vec3(1.0) - abs(cut.xyz)) / 6.0;
  float width = fwidth(across);
  float line = smoothstep(0.11 + width, 0.11, abs(fract(across) - 0.5));
  float share = mix(line, 0.22, smoothstep(0.3, 0.7, width));
  colour = vec4(mix(mix(mix(paper, fill, 0.42), full, share), paper, fade), 1.0);
}`,
};
