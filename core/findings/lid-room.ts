import {
  type LidRooms,
  type LoadBody,
  type Room,
  type RoomBody,
  lidBodies,
  obstaclesOn,
  openingPlane,
  panelReach,
  roomOf,
} from '../clearance';
import { LidwrightError } from '../error';
import type { ResolvedJob } from '../job';
import { type TriangleMesh, hullOf } from '../solid';
import { type Vec3, add } from '../space';
import type { Passage } from '../travel';
import { type BracketStand, outOfBracket } from '../bracket';
import { bracketStand } from './clearance';
import { type CheckContext, type Finding, type Proposal, check, degrees, formatter } from './finding';

/** All that the room of a lid depends on but for the brackets' shapes, as plain data: a force or a strut's place leaves it as it is. */
export interface RoomQuestion extends Pick<Passage, 'axis' | 'openDeg' | 'caseId'> {
  readonly wantedMm: number;
  readonly panel: (NonNullable<ReturnType<typeof openingPlane>> & NonNullable<ReturnType<typeof panelReach>>) | null;
  readonly loads: readonly LoadBody[];
  readonly obstacles: ResolvedJob['obstacles'];
  /** One a bracket; null where it stands nowhere, or nothing asks where. */
  readonly stands: readonly (
    | ({ readonly id: string; readonly name: string; readonly on: 'base' | 'lid' } & BracketStand)
    | null
  )[];
}

/** See RoomQuestion. */
export function roomQuestion(
  job: Pick<ResolvedJob, 'points' | 'outline' | 'panel' | 'obstacles' | 'brackets' | 'limits'>,
  loads: readonly LoadBody[],
  passage: Passage,
): RoomQuestion {
  const { axis, openDeg, caseId } = passage;
  const reach = panelReach(job);
  const plane = reach && openingPlane(job, axis);
  const bare = !plane && loads.length === 0;
  return {
    ...{ axis, openDeg, caseId, loads, obstacles: bare ? [] : job.obstacles, wantedMm: job.limits.clearanceMm },
    panel: plane && { ...plane, ...reach },
    stands: job.brackets.map((bracket) => {
      const strut = bare ? undefined : passage.struts.find((s) => s.id === bracket.strut);
      const stand = strut && bracketStand(passage, strut, bracket);
      return stand ? { ...stand, id: bracket.id, name: bracket.name ?? bracket.id, on: bracket.end } : null;
    }),
  };
}

/** Works out the rooms; `meshes` are the brackets' bodies, one a bracket. */
export function lidRooms(question: RoomQuestion, meshes: readonly (TriangleMesh | LidwrightError | null)[]): LidRooms {
  const { axis, openDeg, caseId, wantedMm, stands, obstacles } = question;
  const brackets = (on: 'base' | 'lid'): RoomBody[] =>
    stands.flatMap((stand, i) => {
      const mesh = meshes[i];
      if (stand?.on !== on || !mesh || mesh instanceof LidwrightError) return [];
      const place = (p: Vec3): Vec3 => add(stand.originMm, outOfBracket(stand, p));
      return [{ id: stand.id, name: stand.name, pieces: trianglesOf(mesh, place) }];
    });
  const plain = lidBodies(question);
  const base = plain.length === 0 ? [] : [...obstaclesOn('base', obstacles), ...brackets('base')];
  const lid = base.length === 0 ? [] : [...plain, ...obstaclesOn('lid', obstacles), ...brackets('lid')];
  const found = base.map((thing) => {
    const rooms = lid.map((body) => roomOf(axis, openDeg, body, thing, wantedMm));
    // plain data: workings go to other threads, and functions don't
    return {
      thing: { id: thing.id, name: thing.name },
      rooms,
      worst: rooms.reduce((a, b) => (rank(b) < rank(a) ? b : a)),
    };
  });
  return { openDeg, caseId, wantedMm, bare: base.length === 0, found };
}

function trianglesOf({ positionsMm, triangles }: TriangleMesh, place: (p: Vec3) => Vec3): RoomBody['pieces'] {
  const corner = (i: number): Vec3 => place([positionsMm[3 * i]!, positionsMm[3 * i + 1]!, positionsMm[3 * i + 2]!]);
  return Array.from({ length: triangles.length / 3 }, (_, t) =>
    hullOf([0, 1, 2].map((k) => corner(triangles[3 * t + k]!))),
  );
}

/**
 * room-…: the gap of the lid's own bodies (panel, loads, what is fixed to it) to each thing on the base over the travel; and
 * free-opening: how far it opens before it touches, or comes nearer than is wanted. Nothing where the lid has no body.
 */
export const lidRoom = check(
  'lidRoom',
  { job: ['obstacles', 'brackets'], from: ['rooms', 'units'] },
  ({ rooms, units }): Finding[] =>
    rooms.bare ? [] : [...rooms.found.map((one) => gapFinding(rooms, units, one)), openingFinding(rooms)],
  { slow: ({ obstacles, brackets }) => obstacles.length + brackets.length > 0 },
);

const rank = ({ touchDeg, gapMm, known }: Room): number => (!known ? -2e6 : touchDeg === null ? gapMm : touchDeg - 1e6);

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function gapFinding(
  { caseId, wantedMm: limit }: LidRooms,
  units: CheckContext<never, 'units'>['units'],
  { thing, worst }: LidRooms['found'][number],
): Finding {
  const { gapMm, atDeg, body, touchDeg, rests, known } = worst;
  const f = formatter(units);
  const who = capital(body.name);
  const margin = gapMm - limit;
  const common = {
    id: `room-${thing.id}`,
    case: caseId,
    everyCase: true,
    subject: 'lid',
    unit: 'mm',
    limit,
  } as const;
  if (!known)
    return {
      ...common,
      ...{ state: 'unknown', value: null, margin: null, worstDeg: atDeg, limit: null },
      text: `${who} glides so close past ${thing.name} that whether they touch is not known.`,
      advice: 'Move one of them, or take out what the lid rests on.',
    };
  const shut = touchDeg === 0 && !rests;
  const open = atDeg < 1e-6 ? 'closed' : `open ${degrees(Math.round(atDeg * 10) / 10)}`;
  return {
    ...common,
    state: margin < 0 ? 'fails' : margin < 1 ? 'watch' : 'holds',
    value: gapMm,
    margin,
    worstDeg: atDeg,
    text: shut
      ? `${who} stands in ${thing.name} with the lid closed, deeper than what only rests on it.`
      : touchDeg !== null
        ? `${who} runs into ${thing.name} at ${degrees(Math.round(touchDeg * 10) / 10)}.`
        : `${who} clears ${thing.name} by ${f(gapMm, 'length')}${limit > 0 ? ` (wants ${f(limit, 'length')})` : ''}, with the lid ${open}${rests ? '; closed, it rests on it' : ''}.`,
    advice: '',
  };
}

/** Angles at which a lid is stopped are given to this, degrees; downward. */
const STOP_GRAIN_DEG = 0.5;

function openingFinding({ openDeg, caseId, found }: LidRooms): Finding {
  const all = found.flatMap(({ thing, rooms }) => rooms.map((room) => ({ thing, room })));
  const first = all.reduce((a, b) => (b.room.clearDeg < a.room.clearDeg ? b : a));
  const clear = first.room.clearDeg;
  const short = clear < openDeg - 1e-9;
  const common = { id: 'free-opening', case: caseId, everyCase: true, subject: 'lid', unit: '°' } as const;
  if (!first.room.known)
    return {
      ...common,
      ...{ state: 'unknown', value: null, limit: null, margin: null, worstDeg: first.room.atDeg },
      text: `How far the lid opens freely is not known: ${first.room.body.name} glides past ${first.thing.name} too close to tell.`,
      advice: 'Move one of them, or take out what the lid rests on.',
    };
  const touch = Math.min(...all.map(({ room }) => room.touchDeg ?? Infinity));
  const stop = Math.floor(clear / STOP_GRAIN_DEG) * STOP_GRAIN_DEG;
  const proposal: Proposal | undefined =
    short && stop >= 5
      ? { label: `Stop the lid at ${degrees(stop)}`, path: ['travel', 'openDeg'], value: stop }
      : undefined;
  const name = capital(first.room.body.name);
  return {
    ...common,
    state: short ? 'fails' : 'holds',
    value: short ? clear : openDeg,
    limit: openDeg,
    margin: short ? clear - openDeg : 0,
    worstDeg: short ? clear : null,
    text: short
      ? `The lid is to open ${degrees(openDeg)}, and is free up to ${degrees(Math.floor(clear * 10) / 10)}: there ${name.replace(/^The lid’s/, 'its')} comes nearer to ${first.thing.name} than is wanted${Number.isFinite(touch) ? `; it touches at ${degrees(Math.round(touch * 10) / 10)}` : ''}.`
      : `Nothing on the lid touches anything on the base up to ${degrees(openDeg)}.`,
    advice: short ? 'Give it a stop before that, or make room.' : '',
    ...(proposal ? { proposal } : {}),
  };
}
