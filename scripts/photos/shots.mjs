// What is photographed, from where, and which points of it are kept as ground truth.
import { readFileSync } from 'node:fs';
import { lookAt } from './camera.mjs';

const size = { widthPx: 1600, heightPx: 1200 };

/** Points of the workboat job, by id: plain numbers in mm, lid closed. */
export function jobPoints(path) {
  const job = JSON.parse(readFileSync(path, 'utf8'));
  return Object.fromEntries(job.points.map((point) => [point.id, point.at]));
}

/** The scale bars: 500 mm between the outer edges of the end ticks; `normal` points out of the face they lie on. */
const workboatBars = {
  side: { from: [-872, -487, 205], to: [-372, -487, 205], normal: [0, -1, 0], across: [0, 0, 1] },
  top: { from: [-872, -405, 409.5], to: [-372, -405, 409.5], normal: [0, 0, 1], across: [0, 1, 0] },
};

/** A drawbar locker, another scene than any example job: a lid hinged along Y at its rear end. */
export const lockerPoints = {
  hingeA: [0, 262, 902],
  hingeB: [0, -262, 902],
  'free-edge': [742, -262, 902],
  grip: [762, -20, 884],
  'cg-lid': [372, 0, 896],
  'strut-base': [62, -308, 640],
  'strut-lid': [262, -300, 884],
};

/** The three photos; `view` is the orthographic view each lies under, `fit` the points its underlay is laid on. */
export function shots(workboatJobPath) {
  const boat = jobPoints(workboatJobPath);
  return [
    {
      name: 'workboat-side',
      scene: 'workboat',
      view: 'side',
      seed: 11,
      points: boat,
      fit: ['hingeB', 's1-base', 's1-lid'],
      bar: workboatBars.side,
      bars: workboatBars,
      camera: lookAt({
        eyeMm: [-265, -3720, 372],
        targetMm: [-282, -510, 318],
        up: [0, 0, 1],
        rollDeg: 1.1,
        focalPx: 2950,
        ...size,
      }),
    },
    {
      name: 'workboat-top',
      scene: 'workboat',
      view: 'top',
      seed: 12,
      points: boat,
      fit: ['hingeA', 'hingeB', 's1-lid'],
      bar: workboatBars.top,
      bars: workboatBars,
      camera: lookAt({
        eyeMm: [-370, -190, 4600],
        targetMm: [-392, -168, 405],
        up: [0, 1, 0],
        rollDeg: -0.8,
        focalPx: 3350,
        ...size,
      }),
    },
    {
      name: 'locker-side',
      scene: 'locker',
      view: 'side',
      seed: 13,
      points: lockerPoints,
      fit: ['hingeB', 'strut-base', 'strut-lid', 'free-edge'],
      bar: { from: [180, -302, 470], to: [680, -302, 470], normal: [0, -1, 0], across: [0, 0, 1] },
      camera: lookAt({
        eyeMm: [330, -14300, 800],
        targetMm: [330, -300, 772],
        up: [0, 0, 1],
        rollDeg: -0.6,
        focalPx: 13200,
        ...size,
      }),
    },
  ];
}
