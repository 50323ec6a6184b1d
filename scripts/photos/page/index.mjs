// Runs in the browser page: builds a scene, takes the photo with the given camera, says which points can be seen.
import * as THREE from 'three';
import { develop, toJpeg } from './develop.mjs';
import { lockerScene } from './locker.mjs';
import { V } from './parts.mjs';
import { workboat } from './workboat.mjs';

const OVERSAMPLE = 2;
const NEAR_MM = 200;
const FAR_MM = 200_000;

/** A three camera that images exactly like K, R, t (no distortion, square pixels, principal point in the middle). */
function threeCamera({ K, R, eyeMm, widthPx, heightPx }) {
  const fovDeg = (2 * Math.atan(heightPx / 2 / K[1][1]) * 180) / Math.PI;
  const camera = new THREE.PerspectiveCamera(fovDeg, widthPx / heightPx, NEAR_MM, FAR_MM);
  const [right, down, forward] = R.map(V);
  camera.quaternion.setFromRotationMatrix(new THREE.Matrix4().makeBasis(right, down.negate(), forward.negate()));
  camera.position.set(...eyeMm);
  camera.updateMatrixWorld();
  return camera;
}

/** True where nothing solid lies more than 25 mm in front of the point, as seen from the eye. */
function seen(scene, eyeMm, pointMm) {
  const eye = V(eyeMm);
  const d = V(pointMm).sub(eye);
  const length = d.length();
  const hits = new THREE.Raycaster(eye, d.normalize(), NEAR_MM, length - 25).intersectObjects(scene.children, true);
  return hits.length === 0;
}

/** Takes one photo; returns a JPEG data URL, its quality, and for each point whether it can be seen. */
window.takePhoto = (shot) => {
  const { widthPx, heightPx, eyeMm } = shot.camera;
  const scene = new THREE.Scene();
  const sun = (shot.scene === 'workboat' ? workboat : lockerScene)(scene, shot);
  sun.target.position.set(-300, 0, 200);
  sun.position.add(sun.target.position);
  scene.add(sun.target);
  scene.fog = new THREE.Fog('#c9d6de', 12000, 110_000);
  const renderer = new THREE.WebGLRenderer({ antialias: true, preserveDrawingBuffer: true });
  renderer.setPixelRatio(1);
  renderer.setSize(widthPx * OVERSAMPLE, heightPx * OVERSAMPLE, false);
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = THREE.PCFShadowMap;
  renderer.toneMapping = THREE.ACESFilmicToneMapping;
  renderer.toneMappingExposure = 1.1;
  renderer.render(scene, threeCamera(shot.camera));
  const photo = toJpeg(develop(renderer.domElement, { widthPx, heightPx, seed: shot.seed }), shot.mostBytes);
  scene.updateMatrixWorld(true);
  const visible = Object.fromEntries(Object.entries(shot.allPoints).map(([id, at]) => [id, seen(scene, eyeMm, at)]));
  renderer.dispose();
  return { ...photo, visible };
};
window.photosReady = true;
