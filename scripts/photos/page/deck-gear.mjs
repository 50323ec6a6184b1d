// What lies about on the workboat: bulwark, wheelhouse, quay, and the clutter of a working day.
import * as THREE from 'three';
import { bar, bent, box, darkSteel, material, ring, steel, turned } from './parts.mjs';
import { grit, wornPaint } from './paint.mjs';

/** Port bulwark with stanchions and cap rail, starboard toe rail, the wheelhouse's aft wall. */
function hull(scene, random) {
  const blue = material(wornPaint(random, [38, 72, 98], 1.2, 3, 1), 0.5);
  const white = material(wornPaint(random, [228, 228, 220], 0.8), 0.5);
  const timber = material('#8a5a34', 0.6);
  box(scene, [-2300, 1240, -60], [1500, 1270, 560], blue, 2);
  box(scene, [-2300, 1205, 555], [1500, 1290, 590], timber, 8);
  for (let x = -2000; x < 1400; x += 380) box(scene, [x, 1185, 0], [x + 12, 1242, 556], blue, 2);
  box(scene, [-2300, -1325, -1200], [1500, -1270, 12], blue, 4);
  box(scene, [-2300, -1335, 6], [1500, -1255, 40], timber, 10);
  box(scene, [455, -640, 0], [1500, 900, 2100], white, 14);
  box(scene, [452, 250, 60], [458, 800, 1800], material('#cfd3ce', 0.5), 3);
  for (const z of [420, 1250]) box(scene, [440, 240, z], [458, 300, z + 70], steel(), 4);
  bar(scene, [405, -560, 880], [405, 120, 880], 13, material('#c9a227', 0.4, 0.3));
  for (const y of [-540, 100]) bar(scene, [405, y, 880], [456, y, 880], 10, steel());
}

/** A stone quay with a low shed and a hill behind the port side. */
function shore(scene, random) {
  const stone = material(grit(random, [128, 120, 108], 14, 2), 0.95);
  box(scene, [-30000, 14000, -900], [30000, 16000, 700], stone, 0);
  const brick = material(grit(random, [150, 112, 98], 8, 3), 0.95);
  const pane = material('#5c6f7c', 0.25, 0.2);
  const frame = material('#e4e2da', 0.7);
  box(scene, [-7400, 17500, 700], [-900, 21000, 2450], brick, 0);
  box(scene, [-7700, 17200, 2450], [-600, 21200, 2600], material('#54585c', 0.9), 0);
  for (let x = -6900; x < -1500; x += 1150) {
    box(scene, [x - 40, 17470, 1260], [x + 640, 17500, 2040], frame, 0);
    box(scene, [x, 17450, 1300], [x + 285, 17480, 2000], pane, 0);
    box(scene, [x + 315, 17450, 1300], [x + 600, 17480, 2000], pane, 0);
  }
  for (const [x, s] of [
    [-26000, 1.2],
    [9000, 1],
    [38000, 1.6],
  ]) {
    const hill = new THREE.Mesh(new THREE.SphereGeometry(12000 * s, 32, 16), material('#5f7560', 1));
    hill.position.set(x, 62000, -900);
    hill.scale.set(1.9, 1, 0.42);
    scene.add(hill);
  }
  for (const x of [-6200, 900, 5200])
    turned(
      scene,
      [x, 14300, 700],
      [0, 0, 1],
      [
        [180, 0],
        [150, 60],
        [110, 300],
        [190, 380],
        [190, 440],
        [0, 470],
      ],
      darkSteel(),
    );
}

/** Toolbox, bucket, rope, fender, prop, spanner: away from the strut. */
function clutter(scene, random) {
  const red = material(wornPaint(random, [168, 44, 34], 1), 0.4);
  box(scene, [-1290, -250, 0], [-1010, 230, 190], red, 10);
  box(scene, [-1296, -256, 188], [-1004, 236, 214], red, 8);
  bent(
    scene,
    [
      [-1150, -90, 214],
      [-1150, -88, 262],
      [-1150, 0, 272],
      [-1150, 70, 262],
      [-1150, 72, 214],
    ],
    9,
    darkSteel(),
  );
  for (const y of [-150, 130]) box(scene, [-1004, y - 18, 150], [-996, y + 18, 206], steel(), 3);
  // bucket with a rag over its rim
  turned(
    scene,
    [190, 300, 0],
    [0, 0, 1],
    [
      [0, 3],
      [108, 3],
      [140, 260],
      [146, 262],
      [146, 268],
      [136, 268],
      [104, 8],
      [0, 8],
    ],
    material('#2f3236', 0.55),
  );
  bent(
    scene,
    [
      [50, 300, 240],
      [120, 230, 150],
      [190, 200, 120],
      [260, 230, 150],
      [330, 300, 240],
    ],
    4,
    steel(),
  );
  bent(
    scene,
    [
      [190, 160, 262],
      [180, 150, 275],
      [170, 140, 230],
      [176, 150, 150],
    ],
    26,
    material('#c9b48a', 1),
  );
  // mooring line in a flat coil with its tail, and a fender on the bulwark
  const rope = material('#d9cda8', 0.95);
  for (let i = 0; i < 7; i++) ring(scene, [-1180, 690, 12 + (i % 2) * 3], [0, 0, 1], 70 + i * 25, 12, rope);
  for (let i = 0; i < 5; i++) ring(scene, [-1180, 690, 36], [0, 0, 1], 84 + i * 25, 12, rope);
  bent(
    scene,
    [
      [-1000, 690, 14],
      [-940, 640, 12],
      [-830, 690, 12],
      [-700, 660, 12],
      [-560, 720, 12],
      [-420, 705, 12],
    ],
    12,
    rope,
  );
  bent(
    scene,
    [
      [-760, 1230, 590],
      [-760, 1195, 560],
      [-760, 1190, 500],
    ],
    7,
    rope,
  );
  turned(
    scene,
    [-760, 1130, 90],
    [0, 0, 1],
    [
      [0, 0],
      [40, 6],
      [78, 60],
      [84, 200],
      [78, 350],
      [40, 400],
      [18, 420],
      [0, 422],
    ],
    material('#d96a28', 0.5),
  );
  // a timber prop leaning on the wheelhouse: it goes in before anybody works under the lid
  bar(scene, [170, -520, 0], [440, -470, 780], 20, material('#b58a55', 0.8));
  // extinguisher on the wall
  box(scene, [440, 120, 300], [456, 160, 560], darkSteel(), 3);
  turned(
    scene,
    [385, 140, 240],
    [0, 0, 1],
    [
      [0, 0],
      [62, 4],
      [66, 30],
      [66, 330],
      [50, 380],
      [20, 400],
      [20, 430],
      [0, 430],
    ],
    material('#b3201c', 0.3),
  );
  box(scene, [370, 120, 425], [440, 160, 450], darkSteel(), 5);
  // mallet and spanner on the planks
  bar(scene, [-700, -720, 16], [-420, -760, 16], 13, material('#a9793f', 0.7));
  bar(scene, [-728, -776, 34], [-712, -654, 34], 34, material('#1f2022', 0.8));
  box(scene, [60, -820, 0], [72, -640, 9], steel(), 2);
  ring(scene, [66, -626, 6], [0, 0, 1], 15, 6, steel(), 5);
  // cleat on the port side
  for (const x of [-210, -130]) bar(scene, [x, 1040, 0], [x, 1040, 60], 14, steel());
  bar(scene, [-290, 1040, 66], [-50, 1040, 66], 15, steel());
}

export function deckGear(scene, random) {
  hull(scene, random);
  shore(scene, random);
  clutter(scene, random);
}
