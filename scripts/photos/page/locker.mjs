// A plain locker on a trailer's drawbar, seen square from the side; its lid is closed.
import * as THREE from 'three';
import {
  ball,
  bar,
  bent,
  box,
  darkSteel,
  daylight,
  dot,
  gasSpring,
  material,
  plate,
  ring,
  rule,
  steel,
  turned,
} from './parts.mjs';
import { grit, leaves, seeded, wornPaint } from './paint.mjs';

function trailer(scene, random) {
  const frame = material(wornPaint(random, [60, 64, 66], 1), 0.55, 0.3);
  box(scene, [-1600, -240, 300], [1400, -180, 400], frame, 5);
  box(scene, [-1600, 180, 300], [1400, 240, 400], frame, 5);
  // bed side with ribs to the left, wheel under it, jockey wheel to the right
  const side = material(wornPaint(random, [150, 92, 46], 1.2, 2, 1), 0.7);
  box(scene, [-2000, -700, 430], [-190, 700, 470], frame, 4);
  box(scene, [-2000, -720, 470], [-190, -690, 900], side, 3);
  box(scene, [-215, -700, 470], [-190, 700, 900], side, 3);
  for (const x of [-1000, -620, -230]) box(scene, [x, -736, 430], [x + 46, -700, 905], frame, 4);
  const tyre = material('#1b1b1c', 0.95);
  turned(
    scene,
    [-640, -640, 290],
    [0, 1, 0],
    [
      [150, -90],
      [250, -95],
      [282, -80],
      [290, -50],
      [290, 50],
      [282, 80],
      [250, 95],
      [150, 90],
    ],
    tyre,
  );
  turned(
    scene,
    [-640, -700, 290],
    [0, -1, 0],
    [
      [0, 20],
      [60, 22],
      [70, 4],
      [140, 2],
      [156, 26],
      [160, 26],
    ],
    material('#c4c7c8', 0.4, 0.5),
  );
  for (let i = 0; i < 5; i++)
    ball(scene, [-640 + 88 * Math.cos(i * 1.2566), -706, 290 + 88 * Math.sin(i * 1.2566)], 12, steel());
  plate(scene, [-640, -540, 290], [1, 0, 0], [0, -1, 0], [...arc(360, 12, 168), ...arc(345, 168, 12)], 230, frame);
  bar(scene, [1010, -300, 180], [1010, -300, 900], 26, steel());
  turned(
    scene,
    [1010, -300, 110],
    [0, 1, 0],
    [
      [30, -30],
      [105, -28],
      [110, -18],
      [110, 18],
      [105, 28],
      [30, 30],
    ],
    tyre,
  );
  box(scene, [990, -345, 100], [1030, -255, 240], darkSteel(), 4);
  bent(
    scene,
    [
      [1010, -300, 905],
      [1050, -300, 915],
      [1075, -300, 890],
      [1075, -300, 850],
    ],
    9,
    steel(),
  );
}

const arc = (r, fromDeg, toDeg) =>
  Array.from({ length: 25 }, (_, i) => {
    const a = ((fromDeg + ((toDeg - fromDeg) * i) / 24) * Math.PI) / 180;
    return [r * Math.cos(a), r * Math.sin(a)];
  });

function locker(scene, p, random) {
  const body = material(wornPaint(random, [118, 128, 112], 1, 1.2, 1), 0.6);
  const lid = material(wornPaint(random, [146, 152, 150], 1), 0.45, 0.4);
  box(scene, [14, -276, 404], [724, 276, 866], body, 4);
  box(scene, [6, -290, 862], [742, 290, 910], lid, 5);
  for (const x of [30, 700]) box(scene, [x - 12, -282, 410], [x + 12, -274, 860], body, 2);
  box(scene, [300, -284, 420], [420, -274, 440], darkSteel(), 2);
  // hinge barrels at the rear, pull handle and latch at the front
  for (const y of [-262, 196]) {
    bar(scene, [0, y, 902], [0, y + 66, 902], 10, steel());
    box(scene, [0, y + 4, 905], [90, y + 62, 912], steel(), 2);
    box(scene, [-6, y + 4, 760], [12, y + 62, 900], steel(), 2);
  }
  bent(
    scene,
    [
      [742, -70, 884],
      [764, -66, 884],
      [764, 26, 884],
      [742, 30, 884],
    ],
    7,
    darkSteel(),
  );
  box(scene, [724, -200, 820], [738, -150, 880], steel(), 3);
  // strut outside the near wall: pads, studs, spring, dots
  const from = p['strut-base'];
  const to = p['strut-lid'];
  box(scene, [from[0] - 22, -286, from[2] - 22], [from[0] + 22, -275, from[2] + 22], steel(), 3);
  bar(scene, [from[0], -280, from[2]], from, 5, steel());
  bar(scene, [to[0], -288, to[2]], to, 5, steel());
  gasSpring(scene, from, to, { compressedMm: 290, rodMm: 8, tubeMm: 18 });
  for (const at of [from, to]) dot(scene, [at[0], at[1] - 11.4, at[2]], [0, -1, 0], '#35c04a', 7);
  dot(scene, [0, -262.6, 902], [0, -1, 0], '#ff7a2f', 8);
  // what the lid carries: a folded ladder rack
  for (const x of [180, 560])
    for (const y of [-180, 180]) box(scene, [x - 14, y - 14, 908], [x + 14, y + 14, 962], darkSteel(), 3);
  for (const y of [-180, 180]) bar(scene, [120, y, 970], [620, y, 970], 13, steel());
  for (const x of [180, 300, 430, 560]) bar(scene, [x, -180, 970], [x, 180, 970], 9, steel());
}

/** Fills the scene for the locker photo. */
export function lockerScene(scene, { points, bar: ruleLine }) {
  const random = seeded(77);
  const ground = new THREE.Mesh(
    new THREE.PlaneGeometry(40000, 40000),
    material(grit(random, [112, 110, 106], 30, 30), 1),
  );
  ground.receiveShadow = true;
  scene.add(ground);
  const top = Array.from({ length: 1001 }, (_, i) => [
    -6000 + i * 12,
    1150 + 22 * Math.sin(i * 0.021) + 14 * Math.sin(i * 0.067) + 26 * random(),
  ]);
  plate(
    scene,
    [0, 4200, 0],
    [1, 0, 0],
    [0, -1, 0],
    [[-6000, 0], ...top, [6000, 0]].reverse(),
    400,
    material(leaves(random, 1 / 640, 1 / 640), 1),
  );
  trailer(scene, random);
  locker(scene, points, random);
  rule(scene, ruleLine);
  for (const [x, y] of [
    [820, -520],
    [-60, -560],
  ])
    box(scene, [x, y, 0], [x + 190, y + 120, 90], material('#9a7747', 0.9), 4);
  ring(scene, [560, -620, 16], [0, 0, 1], 150, 14, material('#2c5a8a', 0.7));
  ring(scene, [566, -616, 40], [0, 0, 1], 138, 14, material('#2c5a8a', 0.7));
  return daylight(scene, { sun: [-2600, -5200, 4200], top: '#7ea7d2', low: '#e3e7e4', sunlight: 2.4, skylight: 2.1 });
}
