// Small parts that both scenes are built from. Everything is in mm, in the base frame (Z up).
import * as THREE from 'three';
import { RoundedBoxGeometry } from 'three/addons/geometries/RoundedBoxGeometry.js';
import { dotFace, ruleFace } from './paint.mjs';

export const V = (a) => new THREE.Vector3(...a);

/** A matt or shiny surface; `look` is a colour or a texture. */
export function material(look, roughness = 0.7, metalness = 0) {
  const paint = look?.isTexture ? { map: look } : { color: look };
  return new THREE.MeshStandardMaterial({ ...paint, roughness, metalness });
}

export const steel = () => material('#b9bdc2', 0.38, 0.75);
export const darkSteel = () => material('#3b3e42', 0.5, 0.5);

function keep(scene, mesh) {
  mesh.castShadow = mesh.receiveShadow = true;
  scene.add(mesh);
  return mesh;
}

/** A box from one corner to the opposite one, its edges rounded. */
export function box(scene, from, to, look, radius = 3) {
  const size = to.map((v, i) => Math.abs(v - from[i]));
  const r = Math.min(radius, ...size.map((s) => s / 2.01));
  const mesh = new THREE.Mesh(r > 0 ? new RoundedBoxGeometry(...size, 3, r) : new THREE.BoxGeometry(...size), look);
  mesh.position.set(...from.map((v, i) => (v + to[i]) / 2));
  return keep(scene, mesh);
}

/** A round bar from point to point; `radiusEnd` makes it a cone. */
export function bar(scene, from, to, radius, look, radiusEnd = radius) {
  const a = V(from);
  const d = V(to).sub(a);
  const mesh = new THREE.Mesh(new THREE.CylinderGeometry(radiusEnd, radius, d.length(), 40), look);
  mesh.position.copy(a).addScaledVector(d, 0.5);
  mesh.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), d.normalize());
  return keep(scene, mesh);
}

/** A body of revolution about `axis` through `at`; profile = [[radius, along], …]. */
export function turned(scene, at, axis, profile, look) {
  const points = profile.map(([r, z]) => new THREE.Vector2(r, z));
  const mesh = new THREE.Mesh(new THREE.LatheGeometry(points, 96), look);
  mesh.position.set(...at);
  mesh.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), V(axis).normalize());
  return keep(scene, mesh);
}

export function ball(scene, at, radius, look) {
  const mesh = new THREE.Mesh(new THREE.SphereGeometry(radius, 32, 24), look);
  mesh.position.set(...at);
  return keep(scene, mesh);
}

export function ring(scene, at, axis, radius, thickness, look, arc = Math.PI * 2) {
  const mesh = new THREE.Mesh(new THREE.TorusGeometry(radius, thickness, 14, 72, arc), look);
  mesh.position.set(...at);
  mesh.quaternion.setFromUnitVectors(new THREE.Vector3(0, 0, 1), V(axis).normalize());
  return keep(scene, mesh);
}

/** A rope, hose or handle that runs smoothly through the points. */
export function bent(scene, through, radius, look) {
  const curve = new THREE.CatmullRomCurve3(through.map(V), false, 'centripetal');
  return keep(scene, new THREE.Mesh(new THREE.TubeGeometry(curve, 160, radius, 14), look));
}

/** A flat shape drawn in (along, across) and thickened along `normal`. */
export function plate(scene, at, along, normal, outline, thickness, look, holes = []) {
  const shape = new THREE.Shape(outline.map((p) => new THREE.Vector2(...p)));
  for (const [x, y, r] of holes) shape.holes.push(new THREE.Path().absarc(x, y, r, 0, Math.PI * 2));
  const geometry = new THREE.ExtrudeGeometry(shape, { depth: thickness, bevelEnabled: false });
  const z = V(normal).normalize();
  const x = V(along).addScaledVector(z, -V(along).dot(z)).normalize();
  const mesh = new THREE.Mesh(geometry, look);
  mesh.quaternion.setFromRotationMatrix(new THREE.Matrix4().makeBasis(x, z.clone().cross(x), z));
  mesh.position.set(...at);
  return keep(scene, mesh);
}

/** A paper dot of 16 mm that faces along `normal`. */
export function dot(scene, at, normal, colour, radius = 8) {
  const mesh = new THREE.Mesh(new THREE.CircleGeometry(radius, 32), material(dotFace(colour), 0.9));
  mesh.position.set(...at);
  mesh.quaternion.setFromUnitVectors(new THREE.Vector3(0, 0, 1), V(normal).normalize());
  mesh.receiveShadow = true;
  scene.add(mesh);
}

/** A 520 × 32 mm rule whose printed 500 mm run from `from` to `to`; its ticks touch the line between the two. */
export function rule(scene, { from, to, normal, across }) {
  const z = V(normal);
  const x = V(to).sub(V(from)).normalize();
  const y = V(across);
  const turn = new THREE.Matrix4().makeBasis(x, y, z);
  const middle = V(from).add(V(to)).multiplyScalar(0.5).addScaledVector(y, -16);
  const face = new THREE.Mesh(new THREE.PlaneGeometry(520, 32), material(ruleFace(), 0.6));
  face.quaternion.setFromRotationMatrix(turn);
  face.position.copy(middle);
  face.receiveShadow = true;
  scene.add(face);
  const body = new THREE.Mesh(new THREE.BoxGeometry(520, 32, 2), material('#c9ae2f', 0.6));
  body.quaternion.copy(face.quaternion);
  body.position.copy(middle).addScaledVector(z, -1.2);
  keep(scene, body);
}

/** A gas spring from ball to ball, rod at the `from` end, with both sockets; lengths in mm. */
export function gasSpring(scene, from, to, { compressedMm, rodMm, tubeMm }) {
  const a = V(from);
  const d = V(to).sub(a);
  const length = d.length();
  const u = d.normalize();
  const at = (mm) => a.clone().addScaledVector(u, mm).toArray();
  const black = material('#17181a', 0.35, 0.25);
  const rodEnd = 24 + (length - compressedMm);
  bar(scene, at(20), at(rodEnd + 6), rodMm / 2, material('#d5d8dc', 0.15, 0.95));
  bar(scene, at(rodEnd), at(length - 24), tubeMm / 2, black);
  bar(scene, at(length - 28), at(length - 18), 6, steel());
  for (const [mm, sign] of [
    [0, 1],
    [length, -1],
  ]) {
    ball(scene, at(mm), 11, steel());
    bar(scene, at(mm + sign * 4), at(mm + sign * 26), 8.5, steel(), 6.5);
  }
}

/** Sky, haze and sun; returns the sun so that a scene can aim it. */
export function daylight(scene, { sun, top, low, sunlight, skylight, extentMm = 3200 }) {
  const sky = new THREE.Mesh(
    new THREE.SphereGeometry(90000, 32, 32),
    new THREE.ShaderMaterial({
      side: THREE.BackSide,
      depthWrite: false,
      uniforms: { top: { value: new THREE.Color(top) }, low: { value: new THREE.Color(low) } },
      vertexShader:
        'varying vec3 p; void main(){p=position;gl_Position=projectionMatrix*modelViewMatrix*vec4(position,1.);}',
      fragmentShader:
        'varying vec3 p;uniform vec3 top;uniform vec3 low;void main(){float h=clamp(normalize(p).z*2.2+.12,0.,1.);gl_FragColor=vec4(mix(low,top,pow(h,.7)),1.);\n#include <tonemapping_fragment>\n#include <colorspace_fragment>\n}',
    }),
  );
  scene.add(sky);
  const hemi = new THREE.HemisphereLight(top, '#8a7c68', skylight);
  hemi.position.set(0, 0, 1);
  scene.add(hemi);
  const light = new THREE.DirectionalLight('#fff1dc', sunlight);
  light.position.set(...sun);
  light.castShadow = true;
  light.shadow.mapSize.set(4096, 4096);
  light.shadow.bias = -0.0004;
  light.shadow.normalBias = 1.2;
  light.shadow.radius = 5;
  Object.assign(light.shadow.camera, {
    left: -extentMm,
    right: extentMm,
    top: extentMm,
    bottom: -extentMm,
    near: 100,
    far: 16000,
  });
  scene.add(light);
  return light;
}
