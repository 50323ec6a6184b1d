// The aft deck of a small workboat: engine hatch with its lid closed, a life-raft canister on it, the strut in place.
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
  V,
} from './parts.mjs';
import { nonSlip, planks, seeded, water, wornPaint } from './paint.mjs';
import { deckGear } from './deck-gear.mjs';

/** The hatch itself, placed by the points of the job. */
function hatch(scene, p, paint) {
  // coaming with a flange round its foot, the lid's skirt hangs over it
  box(scene, [-912, -470, 0], [-48, 470, 362], paint.coaming, 10);
  box(scene, [-930, -484, 0], [-30, 484, 14], paint.coaming, 3);
  box(scene, [-930, -492, 352], [-30, 492, 405], paint.lid, 12);
  box(scene, [-905, -466, 400], [-55, 466, 408], paint.tread, 3);
  // lift handle, a bent bar on two feet, and two lever latches on the aft skirt
  const [gx, gy, gz] = p.grip;
  bent(
    scene,
    [
      [gx, gy - 75, 405],
      [gx, gy - 74, gz - 6],
      [gx, gy - 55, gz],
      [gx, gy + 55, gz],
      [gx, gy + 74, gz - 6],
      [gx, gy + 75, 405],
    ],
    7,
    steel(),
  );
  for (const y of [-300, 300]) {
    box(scene, [-942, y - 28, 362], [-929, y + 28, 398], steel(), 3);
    bar(scene, [-946, y, 396], [-950, y, 322], 6, steel());
  }
  for (let x = -880; x <= -80; x += 100) ball(scene, [x, -492, 366], 4.5, steel());
}

/** Two strap hinges whose pins lie on the job's skew hinge line. */
function hinges(scene, p) {
  const a = V(p.hingeA);
  const along = V(p.hingeB).sub(a).normalize();
  for (const [id, inward] of [
    ['hingeA', 1],
    ['hingeB', -1],
  ]) {
    const end = V(p[id]);
    const other = end.clone().addScaledVector(along, 70 * inward);
    bar(scene, end.toArray(), other.toArray(), 11, steel());
    const [x, , z] = p[id];
    const y = [end.y, other.y].sort((m, n) => m - n);
    // the strap leaves the outer end of the pin free for a paper dot
    const clear = inward > 0 ? [4, 18] : [18, 4];
    box(scene, [-150, y[0] + clear[0], 404], [x, y[1] - clear[1], 411], steel(), 2);
    box(scene, [x - 7, y[0] + 4, 0], [x + 7, y[1] - 4, z], darkSteel(), 2);
    box(scene, [x - 30, y[0] - 8, 0], [x + 40, y[1] + 8, 8], darkSteel(), 2);
    for (const bx of [-130, -95, -60]) ball(scene, [bx, (y[0] + y[1]) / 2, 411], 7, steel());
    // one dot on the pin's end, one on top of the knuckle where the named point lies
    dot(
      scene,
      end
        .clone()
        .addScaledVector(along, -0.6 * inward)
        .toArray(),
      along.clone().multiplyScalar(-inward).toArray(),
      '#ff7a2f',
    );
    dot(scene, [end.x, end.y, end.z + 11.6], [0, 0, 1], '#ff7a2f');
  }
}

/** Where the pad stands on the lid's side, mm. */
const SKIRT_Y = -494;

/** Bent angle bracket on the deck, ball studs, gas spring, paper dots on the sockets. */
function strut(scene, p, job) {
  const { bracket, stems, spec } = job;
  const stem = V(stems.base);
  const inside = bracket.ballSide === 'inside';
  const x = inside ? stem.clone().negate() : stem;
  const z = new THREE.Vector3(0, 0, 1);
  const ballAt = V(p['s1-base']);
  const origin = ballAt
    .clone()
    .addScaledVector(x, inside ? bracket.thicknessMm + bracket.ballOffsetMm : -bracket.ballOffsetMm)
    .addScaledVector(z, -bracket.studHole.heightMm);
  const y = z.clone().cross(x);
  const t = bracket.thicknessMm;
  const half = bracket.baseWidthMm / 2;
  const top = bracket.topWidthMm / 2;
  const zinc = material('#c8c2a4', 0.42, 0.6);
  plate(
    scene,
    origin.clone().addScaledVector(x, -t).toArray(),
    y.toArray(),
    x.toArray(),
    [
      [-half, 0],
      [half, 0],
      [half, 12],
      [top, bracket.uprightLegMm - 8],
      [top - 8, bracket.uprightLegMm],
      [8 - top, bracket.uprightLegMm],
      [-top, bracket.uprightLegMm - 8],
      [-half, 12],
    ],
    t,
    zinc,
  );
  plate(
    scene,
    origin.toArray(),
    x.clone().negate().toArray(),
    z.toArray(),
    [
      [0, -half],
      [bracket.baseLegMm - 6, -half],
      [bracket.baseLegMm, 6 - half],
      [bracket.baseLegMm, half - 6],
      [bracket.baseLegMm - 6, half],
      [0, half],
    ],
    t,
    zinc,
  );
  for (const side of [-1, 1]) {
    const at = origin
      .clone()
      .addScaledVector(x, -(bracket.baseLegMm - bracket.baseHole.fromEndMm))
      .addScaledVector(y, (side * bracket.baseHole.spacingMm) / 2);
    turned(
      scene,
      at.toArray(),
      [0, 0, 1],
      [
        [0, 9],
        [5, 9],
        [5.5, 4.5],
        [7, 4.5],
        [7, 4],
      ],
      steel(),
    );
  }
  bar(
    scene,
    ballAt
      .clone()
      .addScaledVector(stem, -bracket.ballOffsetMm - t - 8)
      .toArray(),
    ballAt.toArray(),
    4,
    steel(),
  );
  // lid end: a short stud out of a pad on the skirt
  const lid = V(p['s1-lid']);
  const n = V(stems.lid);
  const foot = lid.clone().addScaledVector(n, -(lid.y - SKIRT_Y) / n.y);
  box(scene, [foot.x - 22, foot.y - 2, foot.z - 18], [foot.x + 22, foot.y + 8, foot.z + 18], zinc, 4);
  bar(scene, foot.toArray(), lid.toArray(), 5, steel());
  gasSpring(scene, p['s1-base'], p['s1-lid'], {
    compressedMm: spec.extendedMm - spec.strokeMm,
    rodMm: spec.rodMm,
    tubeMm: spec.tubeMm,
  });
  for (const at of [ballAt, lid]) {
    dot(scene, [at.x, at.y - 11.4, at.z], [0, -1, 0], '#35c04a', 7);
    dot(scene, [at.x, at.y, at.z + 11.4], [0, 0, 1], '#35c04a', 6);
  }
}

/** White two-shell canister across the lid, in a cradle with two straps; no lettering. */
function canister(scene, p) {
  const [x, y, z] = p['cg-canister'];
  const shell = material('#f1f1ec', 0.32);
  const half = 310;
  const r = 150;
  const end = [
    [0, half],
    [r - 55, half - 1],
    [r - 22, half - 8],
    [r - 7, half - 22],
    [r, half - 46],
  ];
  turned(scene, [x, y, z], [0, 1, 0], [...[...end].map(([a, b]) => [a, -b]), ...[...end].reverse()], shell);
  // the seam of the two half shells, lying in the horizontal plane, and the end rings
  box(scene, [x - r - 9, y - half + 40, z - 6], [x + r + 9, y + half - 40, z + 6], material('#dcdcd4', 0.4), 4);
  for (const side of [-1, 1])
    turned(
      scene,
      [x, y + side * (half - 52), z],
      [0, 1, 0],
      [
        [r, -9],
        [r + 5, -6],
        [r + 5, 6],
        [r, 9],
      ],
      shell,
    );
  ring(scene, [x, y - half + 2, z], [0, 1, 0], 92, 4, shell);
  for (const a of [0.6, 2.54])
    bent(
      scene,
      [
        [x + 118 * Math.cos(a), y - half + 8, z + 118 * Math.sin(a)],
        [x + 100 * Math.cos(a), y - half - 22, z + 100 * Math.sin(a) - 18],
        [x + 70 * Math.cos(a), y - half - 4, z + 118 * Math.sin(a) - 8],
      ],
      6,
      material('#d8642a', 0.8),
    );
  const web = material('#27303f', 0.85);
  const cradle = material('#8f969b', 0.45, 0.6);
  for (const side of [-1, 1]) {
    const at = y + side * 165;
    turned(
      scene,
      [x, at, z],
      [0, 1, 0],
      [
        [r + 0.5, -24],
        [r + 4, -24],
        [r + 4, 24],
        [r + 0.5, 24],
      ],
      web,
    );
    const saddle = [];
    for (let i = 0; i <= 24; i++) {
      const a = Math.PI * (1.16 + (0.68 * i) / 24);
      saddle.push([(r + 5) * Math.cos(a), (r + 5) * Math.sin(a)]);
    }
    const floor = 412 - z;
    plate(scene, [x, at + 22, z], [1, 0, 0], [0, -1, 0], [...saddle, [150, floor], [-150, floor]], 44, cradle);
    box(scene, [x - 185, at - 30, 407], [x + 185, at + 30, 415], cradle, 2);
    for (const bx of [-170, 170]) ball(scene, [x + bx, at, 415], 8, steel());
    // ratchet on the strap's forward side
    box(scene, [x + r - 22, at - 20, z + 52], [x + r + 6, at + 20, z + 104], steel(), 5);
  }
  bent(
    scene,
    [
      [x - 150, y - 230, z - 20],
      [x - 175, y - 250, z - 90],
      [x - 190, y - 240, 440],
      [x - 215, y - 190, 418],
    ],
    5,
    material('#d8642a', 0.8),
  );
  ring(scene, [x - 218, y - 186, 414], [0, 0, 1], 16, 4, steel());
}

/** Fills the scene for the workboat job; `bar` is the rule of this photo. */
export function workboat(scene, { points, job, bar: ruleLine }) {
  const random = seeded(2024);
  const paint = {
    coaming: material(wornPaint(random, [206, 210, 206], 1.1), 0.55),
    lid: material(wornPaint(random, [92, 122, 132], 1), 0.5),
    tread: material(nonSlip(random, '#7d8a8c', 6, 6), 0.95),
  };
  const deck = new THREE.Mesh(new THREE.PlaneGeometry(3600, 2560), material(planks(random, 10, 3, 2.56), 0.85));
  deck.position.set(-400, -20, 0);
  deck.receiveShadow = true;
  scene.add(deck);
  const sea = new THREE.Mesh(new THREE.PlaneGeometry(160000, 160000), material(water(random, 60, 60), 0.35, 0.1));
  sea.position.z = -900;
  scene.add(sea);
  deckGear(scene, random);
  hatch(scene, points, paint);
  hinges(scene, points);
  strut(scene, points, job);
  canister(scene, points);
  rule(scene, ruleLine);
  return daylight(scene, { sun: [-1900, -3000, 4300], top: '#5f8fc4', low: '#d5e0e6', sunlight: 2.5, skylight: 2.1 });
}
