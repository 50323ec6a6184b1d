// Every named edit of core with random arguments, for laws that hold whatever is edited.
import * as bracketDrag from '../../../core/bracket/drag';
import * as bracketEdits from '../../../core/bracket/edits';
import * as clearanceEdits from '../../../core/clearance/edits';
import {
  BRACKET_KINDS,
  KNOWN_KINDS,
  addUsualCases,
  type EndName,
  type Job,
  type JobPoint,
  type Num,
  readJob,
} from '../../../core/job';
import * as findEdits from '../../../core/find/edits';
import * as jobEdits from '../../../core/job/edits';
import * as jointEdits from '../../../core/joint/edits';
import * as photoEdits from '../../../core/photo/edits';
import * as proveEdits from '../../../core/prove/edits';
import type { Vec3 } from '../../../core/space';
import { openTurning } from '../../../core/travel';
import * as surveyEdits from '../../../core/survey/edits';
import * as markEdits from '../../../core/survey/mark-edits';
import * as weighEdits from '../../../core/weigh/edits';
import { seeded } from '../choose/brute';

/** The rooms' modules of edits: what they export is an edit, or stands in NO_EDITS. */
export const MODULES = {
  ...{ bracketDrag, bracketEdits, clearanceEdits, findEdits, jobEdits, jointEdits },
  ...{ photoEdits, proveEdits, surveyEdits, markEdits, weighEdits },
} as const;
/** Exported beside edits: they read, or are what edits are made with. */
export const NO_EDITS = [
  ...[
    'append',
    'removeFrom',
    'freshId',
    'heldCoordinates',
    'indexOf',
    'usesOfPoint',
    'valueAt',
    'marksOn',
    'insideOfLid',
    'sideWalls',
  ],
];

/** Random numbers and choices, the same for the same seed. */
export class Draw {
  private readonly next: () => number;
  constructor(seed: number) {
    this.next = seeded(seed);
  }
  between = (a: number, b: number): number => Math.round((a + (b - a) * this.next()) * 100) / 100;
  below = (n: number): number => Math.floor(this.next() * n);
  pick = <T>(list: readonly T[] | undefined): T => {
    if (!list || list.length === 0) throw new Nothing();
    return list[this.below(list.length)]!;
  };
  yes = (): boolean => this.next() < 0.5;
  end = (): EndName => this.pick(['base', 'lid'] as const);
  vec = (size: number): [number, number, number] => [
    this.between(-size, size),
    this.between(-size, size),
    this.between(-size, size),
  ];
  near = (at: readonly Num[], size: number): [number, number, number] =>
    this.vec(size).map((v, k) => v + (typeof at[k] === 'number' ? at[k] : 0)) as [number, number, number];
}

/** The job has nothing that the edit could be about. */
export class Nothing extends Error {}

const bodyPoint = (job: Job, d: Draw, on: 'base' | 'lid'): JobPoint => d.pick(job.points.filter((p) => p.on === on));

/** Where numbers stand in a job, those of the schema and a few beside them. */
function numbersIn(node: unknown, path: readonly (string | number)[] = []): (string | number)[][] {
  if (typeof node === 'number') return [[...path]];
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) => numbersIn(value, [...path, Array.isArray(node) ? +key : key]));
}

const COUNTED = ['version', 'quantity', 'across', 'rows', 'count', 'widthPx', 'heightPx', 'px'];

type Edit = (job: Job, d: Draw) => Job;
const E = { ...MODULES.jobEdits, ...jointEdits, ...clearanceEdits, ...bracketEdits, ...bracketDrag, ...photoEdits };
const F = { ...findEdits, ...proveEdits, ...surveyEdits, ...markEdits, ...weighEdits };
const bracketId = (job: Job, d: Draw): string => d.pick(job.brackets).id;
const holeOf = (job: Job, d: Draw, id: string): string =>
  d.pick(job.brackets!.find((b) => b.id === id)!.fixings?.map((f) => f.id) ?? ['fix1', 'stud']);
const pullsOf = (job: Job) => job.weighings?.pulls?.readings;
const liftedOf = (job: Job) => job.weighings?.lifted?.readings;

export const EDITS: Readonly<Record<string, Edit>> = {
  setTitle: (job, d) => ({ ...job, title: `Title ${d.below(1000)}` }),
  setNumber: (job, d) => {
    const path = d.pick(numbersIn(job).filter((p) => !p.some((key) => COUNTED.includes(String(key)))));
    const old = E.valueAt(job, path) as number;
    const to = Math.round(1000 * (old === 0 ? d.between(0, 0.4) : old * d.between(0.9, 1.1))) / 1000;
    return E.setValue(job, { path, value: to });
  },
  holdByExpression: (job, d) => {
    const path = d.pick(numbersIn(job.points).map((p) => ['points', ...p]));
    return E.setValue(job, { path, value: { expression: `${E.valueAt(job, path) as number} + ${d.below(3)}` } });
  },
  holdByGiven: (job, d) => {
    const path = d.pick(numbersIn(job.points).map((p) => ['points', ...p]));
    return E.setValue(job, { path, value: { given: d.pick(job.givens).name } });
  },
  setValue: (job, d) => E.setValue(job, { path: ['limits', 'handOpenN'], value: d.between(50, 300) }),
  setValues: (job, d) =>
    E.setValues(job, {
      settings: [
        { path: ['limits', 'clearanceMm'], value: d.between(0, 9) },
        { path: ['struts', job.struts.indexOf(d.pick(job.struts)), 'spec', 'forceN'], value: d.between(200, 900) },
      ],
    }),
  addZone: (job, d) => F.addZone(job, { zone: d.yes() ? F.insideOfLid(job) : d.pick(F.sideWalls(job)) }),
  removeZone: (job, d) => F.removeZone(job, { id: d.pick(job.zones).id }),
  moveZone: (job, d) => F.moveZone(job, { id: d.pick(job.zones).id, byMm: d.between(-20, 20) }),
  turnZone: (job, d) => F.turnZone(job, { id: d.pick(job.zones).id }),
  moveZoneCornerPosed: (job, d) =>
    F.moveZoneCornerPosed(job, {
      id: d.pick(job.zones).id,
      corner: d.below(3),
      posed: d.vec(500),
      angleDeg: d.between(0, 60),
    }),
  moveZoneCorner: (job, d) => F.moveZoneCorner(job, { id: d.pick(job.zones).id, corner: d.below(3), to: d.vec(500) }),
  setSeal: (job, d) =>
    E.setValue(job, {
      path: ['seal'],
      value: d.yes() ? { forceN: d.between(0, 90), overMm: d.between(2, 20) } : undefined,
    }),
  setLatch: (job, d) =>
    E.setValue(job, { path: ['latch'], value: { at: d.pick(job.points).id, ratedN: d.between(50, 400) } }),
  setWind: (job, d) => {
    const towards = d.pick(['open', 'shut', d.vec(1)]);
    const path = ['loadCases', job.loadCases.indexOf(d.pick(job.loadCases)), 'wind'];
    return E.setValue(job, { path, value: d.yes() ? { ms: d.between(0, 15), towards } : undefined });
  },
  setAcceleration: (job, d) =>
    E.setValue(job, {
      path: ['loadCases', job.loadCases.indexOf(d.pick(job.loadCases)), 'accelG'],
      value: d.vec(0.8),
    }),
  setLetGo: (job, d) =>
    E.setValues(job, {
      settings: [
        { path: ['limits', 'letGoJ'], value: d.yes() ? d.between(1, 60) : undefined },
        { path: ['limits', 'letGoN'], value: d.yes() ? d.between(20, 150) : undefined },
      ],
    }),
  setHingeNotes: (job, d) =>
    E.setValues(job, {
      settings: [
        { path: ['hinge', 'overCentre'], value: d.yes() },
        { path: ['hinge', 'ratedN'], value: d.yes() ? d.between(50, 900) : undefined },
        { path: ['hinge', 'opens'], value: d.pick(['up', 'down']) },
      ],
    }),
  dismiss: (job, d) =>
    E.dismiss(job, {
      finding: 'asked',
      about: d.pick(['wind', 'cold', 'slope', 'aged']),
      ...(d.yes() ? { reason: 'none there' } : {}),
    }),
  addLatch: (job, d) => E.addLatch(job, { at: d.vec(900) }),
  removeLatch: (job) => E.removeLatch(job),
  addUsualCases: (job, d) =>
    addUsualCases(job, { options: { coldC: d.between(-40, 5), windMs: d.between(0, 20), noseDeg: 0, sideDeg: 0 } }),
  openTurning: (job, d) => openTurning(job, { turn: d.pick(['clockwise', 'anticlockwise'] as const) }),
  assume: (job, d) => E.setValue(job, { path: ['assumed'], value: d.yes() ? ['masses.panel.kg'] : undefined }),
  setGivens: (job, d) => E.setGivens(job, { givens: [{ name: 'sill', expression: `${d.between(200, 320)} mm` }] }),
  movePoint: (job, d) => {
    const point = d.pick(job.points);
    return E.movePoint(job, { id: point.id, at: d.near(point.at, 15) });
  },
  addPoint: (job, d) =>
    E.addPoint(job, {
      ...{ id: E.freshId(job, 'points', 'spare'), name: 'Spare', on: d.end(), at: d.vec(400) },
    }),
  removePoint: (job, d) => E.removePoint(job, d.pick(job.points.filter((p) => E.usesOfPoint(job, p.id).length === 0))),
  addMass: (job, d) => E.addMass(job, { name: 'Box', kg: d.between(0.5, 9), at: d.vec(400) }),
  removeMass: (job, d) => E.removeMass(job, d.pick(job.masses.slice(1))),
  addLoadCase: (job, d) => E.addLoadCase(job, { name: 'Cold', tempC: d.between(-20, 40), pitchDeg: d.between(-5, 5) }),
  removeLoadCase: (job, d) => E.removeLoadCase(job, d.pick(job.loadCases)),
  setMassOff: (job, d) =>
    E.setMassOff(job, { loadCase: d.pick(job.loadCases).id, mass: d.pick(job.masses).id, off: d.yes() }),
  addStrut: (job, d) => {
    const id = E.freshId(job, 'struts', 'strut');
    const to = { base: bodyPoint(job, d, 'base').id, lid: bodyPoint(job, d, 'lid').id };
    return E.addStrut(job, { strut: { ...d.pick(job.struts), id, ...to } });
  },
  removeStrut: (job, d) => E.removeStrut(job, d.pick(job.struts)),
  addSpring: (job, d) =>
    E.addSpring(job, { spring: { kind: 'torsion', rateNmPerDeg: d.between(0.1, 2), preloadNm: d.between(0, 9) } }),
  removeSpring: (job, d) => E.removeSpring(job, d.pick(job.springs)),
  turnMount: (job, d) =>
    E.turnMount(job, { strut: d.pick(job.struts).id, end: d.end(), azimuthDeg: d.between(-90, 90) }),
  standOnMount: (job, d) =>
    E.standOnMount(job, {
      ...{ strut: d.pick(job.struts).id, end: d.end(), normal: d.vec(1), reference: d.vec(1) },
      ...{ azimuthDeg: d.between(-90, 90), tiltDeg: d.between(-20, 20) },
    }),
  useBareStem: (job, d) => E.useBareStem(job, { strut: d.pick(job.struts).id, end: d.end(), stem: d.vec(1) }),
  setFitting: (job, d) =>
    E.setFitting(job, {
      ...{ strut: d.pick(job.struts).id, end: d.end(), fitting: d.pick(['ball-stud', 'fork', 'eye', 'axial-ball']) },
      ...{ rangeDeg: d.between(5, 40), swingDeg: d.between(5, 60) },
    }),
  addPhoto: (job, d) => E.addPhoto(job, { photo: { ...d.pick(job.photos), id: d.pick(['p1', 'p2', 'p3']) } }),
  removePhoto: (job, d) => E.removePhoto(job, d.pick(job.photos)),
  setPhoto: (job, d) => E.setPhoto(job, { id: d.pick(job.photos).id, patch: { opacity: d.between(0, 1) } }),
  knowOnPhoto: (job, d) =>
    E.knowOnPhoto(job, { photo: d.pick(job.photos).id, point: d.pick(job.points).id, known: d.yes() }),
  setCamera: (job, d) => E.setCamera(job, { photo: d.pick(job.photos).id, patch: { atDeg: d.between(0, 9) } }),
  markOnPhoto: (job, d) =>
    F.markOnPhoto(job, {
      photo: d.pick(job.photos).id,
      point: d.pick(job.points).id,
      px: [d.below(800), d.below(600)],
    }),
  unmarkOnPhoto: (job, d) => F.unmarkOnPhoto(job, { photo: d.pick(job.photos).id, point: d.pick(job.points).id }),
  addBracket: (job, d) =>
    E.addBracket(job, { bracket: { ...d.pick(job.brackets), id: E.freshId(job, 'brackets', 'b') } }),
  removeBracket: (job, d) => E.removeBracket(job, d.pick(job.brackets)),
  setBracketKind: (job, d) => E.setBracketKind(job, { id: bracketId(job, d), kind: d.pick(BRACKET_KINDS) }),
  patternToFree: (job, d) => E.patternToFree(job, { id: bracketId(job, d) }),
  freeToPattern: (job, d) => E.freeToPattern(job, { id: bracketId(job, d) }),
  addFixing: (job, d) =>
    E.addFixing(job, { id: bracketId(job, d), acrossMm: d.between(-15, 15), fromEndMm: d.between(8, 30) }),
  removeFixing: (job, d) => {
    const id = bracketId(job, d);
    return E.removeFixing(job, { id, fixing: holeOf(job, d, id) });
  },
  dragHole: (job, d) => {
    const id = bracketId(job, d);
    const to = { acrossMm: d.between(-15, 15), alongMm: d.between(8, 30) };
    return E.dragHole(job, { id, hole: holeOf(job, d, id), to });
  },
  dragSize: (job, d) =>
    E.dragSize(job, { id: bracketId(job, d), path: ['thicknessMm'], called: 'thickness', toMm: d.between(3, 6) }),
  dragEdge: (job, d) => E.dragEdge(job, { id: bracketId(job, d), edge: 'side', toMm: d.between(15, 40) }),
  addObstacle: (job, d) =>
    E.addObstacle(job, { obstacle: { on: d.end(), cylinder: { from: d.vec(300), to: d.vec(300), radiusMm: 20 } } }),
  removeObstacle: (job, d) => E.removeObstacle(job, d.pick(job.obstacles)),
  moveObstacle: (job, d) => E.moveObstacle(job, { id: d.pick(job.obstacles).id, by: d.vec(40) }),
  addObservation: (job, d) => F.addObservation(job, { observation: reading(job, d) }),
  addObservations: (job, d) => F.addObservations(job, { observations: [reading(job, d), reading(job, d)] }),
  setObservation: (job, d) =>
    F.setObservation(job, { id: d.pick(job.observations).id, patch: { name: `reading ${d.below(99)}` } }),
  removeObservation: (job, d) => F.removeObservation(job, d.pick(job.observations)),
  setPointCoordinate: (job, d) =>
    E.setPointCoordinate(job, { id: d.pick(job.points).id, component: d.below(3) as 0 | 1 | 2, value: d.vec(500)[0] }),
  standOnSurface: (job, d) => E.standOnSurface(job, { strut: d.pick(job.struts).id, end: d.end(), normal: d.vec(1) }),
  setMountAxis: (job, d) => {
    const key = d.yes() ? 'normal' : 'reference';
    const strut = d.pick(job.struts.filter((s) => s.ends.lid.mount)).id;
    return E.setMountAxis(job, { strut, end: 'lid', key, component: d.below(3) as 0 | 1 | 2, value: d.below(3) - 1 });
  },
  setKnown: (job, d) => F.setKnown(job, { what: d.pick([...KNOWN_KINDS]), on: d.yes(), sigmaMm: 1 + d.below(4) }),
  useObservation: (job, d) => F.useObservation(job, { id: d.pick(job.observations).id, use: d.yes() }),
  addRelation: (job, d) =>
    F.addRelation(job, { relation: { kind: 'level-with', points: [d.pick(job.points).id, d.pick(job.points).id] } }),
  setRelation: (job, d) => F.setRelation(job, { id: d.pick(job.relations).id, patch: { use: d.yes() } }),
  removeRelation: (job, d) => F.removeRelation(job, d.pick(job.relations)),
  addPulls: (job, d) => F.addPulls(job, { pulls: [{ angleDeg: d.between(0, 60), forceN: d.between(0, 200) }] }),
  setPull: (job, d) => F.setPull(job, { id: d.pick(pullsOf(job)).id, patch: { forceN: d.between(0, 200) } }),
  removePull: (job, d) => F.removePull(job, d.pick(pullsOf(job))),
  addLifted: (job, d) =>
    F.addLifted(job, { weighing: { between: ['grip', bodyPoint(job, d, 'lid').id], firstN: d.between(20, 99) } }),
  setLifted: (job, d) => F.setLifted(job, { id: d.pick(liftedOf(job)).id, patch: { secondN: d.between(20, 99) } }),
  removeLifted: (job, d) => F.removeLifted(job, d.pick(liftedOf(job))),
  chooseWeighed: (job, d) =>
    F.chooseWeighed(job, { way: d.pick(['pulls', 'lifted'] as const), of: d.yes() ? d.pick(job.masses).id : null }),
  setOnWhenWeighed: (job, d) =>
    F.setOnWhenWeighed(job, { way: d.pick(['pulls', 'lifted'] as const), mass: d.pick(job.masses).id, on: d.yes() }),
  addProofReadings: (job, d) =>
    F.addProofReadings(job, { readings: [{ what: 'opens-to', valueDeg: d.between(20, 60) }] }),
  setProofReading: (job, d) =>
    F.setProofReading(job, { id: d.pick(job.proof?.readings).id, patch: { valueDeg: d.between(20, 60) } }),
  removeProofReading: (job, d) => F.removeProofReading(job, d.pick(job.proof?.readings)),
};

const reading = (job: Job, d: Draw): NonNullable<Job['observations']>[number] =>
  ({ kind: 'tape', points: [d.pick(job.points).id, d.pick(job.points).id], valueMm: d.between(100, 600) }) as never;

const A: Vec3 = [0, 300, 200];
/** A small lid that has one of everything which an edit can be about. */
export const everything = (bracket: NonNullable<Job['brackets']>[number]): Job =>
  readJob(
    JSON.stringify({
      format: 'lidwright-job',
      version: 1,
      title: 'One of everything',
      givens: [{ name: 'sill', expression: '300 mm' }],
      points: [
        { id: 'A', on: 'base', at: A },
        { id: 'B', on: 'base', at: [0, -300, { given: 'sill' }] },
        { id: 'grip', on: 'lid', at: [-600, 20, 215] },
        { id: 'm', on: 'lid', at: [-300, 10, { expression: '225 + 5', unit: 'mm' }] },
        { id: 'c0', on: 'lid', at: [-10, 290, 200] },
        { id: 'c1', on: 'lid', at: [-600, 290, 210] },
        { id: 'c2', on: 'lid', at: [-600, -290, 210] },
        { id: 's-base', on: 'base', at: [-60, 280, -60] },
        { id: 's-lid', on: 'lid', at: [-210, 285, 190] },
      ],
      hinge: { a: 'A', b: 'B', opens: 'up', frictionNm: 1 },
      travel: { openDeg: 24.5, stop: 'strut' },
      grip: 'grip',
      outline: ['c0', 'c1', 'c2'],
      masses: [
        { id: 'panel', kg: 12, at: 'm' },
        { id: 'pump', kg: 3, at: 'c1' },
      ],
      struts: [
        {
          ...{ id: 's1', base: 's-base', lid: 's-lid', quantity: 2 },
          spec: { extendedMm: 400, strokeMm: 150, forceN: 350, ratio: 1.3, rodMm: 8, tubeMm: 18, assumed: ['ratio'] },
          ends: {
            base: { fitting: 'ball-stud', rangeDeg: 18, mount: { normal: [0, -1, 0], reference: [1, 0, 0] } },
            lid: { fitting: 'ball-stud', rangeDeg: 6, stem: [0.2, 1, 0] },
          },
        },
      ],
      seal: { forceN: 40, overMm: 9 },
      latch: { at: 'grip', ratedN: 200 },
      springs: [{ id: 'spring', kind: 'torsion', rateNmPerDeg: 0.2, preloadNm: 3 }],
      loadCases: [
        { id: 'used' },
        { id: 'cold', tempC: -10, force: 'low', off: ['pump'], lost: ['s1'] },
        { id: 'gust', wind: { ms: 8, towards: 'open' }, accelG: [0, 0.2, 0] },
      ],
      photos: [
        {
          ...{ id: 'p1', view: 'side', source: { beside: 'hatch.jpg' }, widthPx: 800, heightPx: 600 },
          ...{ anchorPx: [1, 2], anchorMm: [3, 4], camera: { known: ['A'] } },
        },
      ],
      brackets: [{ ...bracket, id: 'b1', strut: 's1', end: 'base' }],
      obstacles: [{ id: 'pipe', on: 'base', cylinder: { from: [-200, 250, 0], to: [-200, 320, 0], radiusMm: 15 } }],
      panel: { thicknessMm: 4 },
      observations: [
        { id: 'r1', kind: 'tape', points: ['A', 'B'], valueMm: 608 },
        { id: 'r2', kind: 'photo-mark', points: ['grip'], photo: 'p1', px: [100, 200] },
      ],
      relations: [{ id: 'rel', kind: 'level-with', points: ['A', 'c0'] }],
      weighings: {
        pulls: { readings: [{ id: 'pull', angleDeg: 0, forceN: 60 }], of: 'panel' },
        lifted: { readings: [{ id: 'weighing', between: ['grip', 'c0'], firstN: 60 }] },
      },
      proof: { readings: [{ id: 'm1', what: 'opens-to', valueDeg: 24 }] },
    }),
  );
