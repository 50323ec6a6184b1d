// Clicking the surface that a strut's end stands on, in any drawn view.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { type Surface, surfaceSeen, surfaceUnder, surfacesOf } from '../../core/clearance';
import type { EndName } from '../../core/job';
import { standOnSurface } from '../../core/joint';
import { type Vec3, sub, toRad } from '../../core/space';
import { poseAt } from '../../core/travel';
import { PROJECTIONS, type Plane } from './planes';
import { bench, edit, notify, presentJob } from './store';
import { leaveZone } from './zone-tool';

interface Wanted {
  readonly strut: string;
  readonly end: EndName;
}

const mountTool = createStore<{ readonly wanted: Wanted | null }>(() => ({ wanted: null }));
export const useMountTool = <T>(select: (wanted: Wanted | null) => T): T =>
  useStore(mountTool, (s) => select(s.wanted));
export const picksSurface = (): boolean => mountTool.getState().wanted !== null;

/** Takes the tool up: the next click in a view names the surface. */
export function pickSurface(wanted: Wanted): void {
  leaveZone();
  bench.setState({ tool: null, selection: null });
  mountTool.setState({ wanted });
}

export const leaveSurface = (): void => mountTool.setState({ wanted: null });

/** So near its line a click means a surface that is seen edge-on, px. */
const NEAR_PX = 8;
/** Which way the eye of each view lies. */
const EYES: Readonly<Record<Plane, Vec3>> = { side: [0, -1, 0], top: [0, 0, 1], front: [-1, 0, 0] };

const surfacesNow = (): readonly Surface[] => {
  const { resolved, outcome } = bench.getState();
  return outcome ? surfacesOf(resolved, outcome.frame.axis) : [];
};

/** A click on the paper of a view, mm right and up. */
export function clickSurface(plane: Plane, [across, up]: readonly [number, number]): void {
  const { wanted } = mountTool.getState();
  const { outcome, angleDeg, sheet } = bench.getState();
  if (!wanted || !outcome) return;
  const { axis } = outcome.frame;
  const p = PROJECTIONS[plane];
  const at = [0, 1, 2].map((k) => (k === p.right ? p.rightSign * across : k === p.up ? up : 0)) as unknown as Vec3;
  const place = (q: Vec3): Vec3 => poseAt(axis, q, toRad(angleDeg));
  const found = surfaceSeen(
    surfacesNow().filter((s) => s.on === wanted.end),
    { eye: EYES[plane], at, withinMm: NEAR_PX / sheet.pxPerMm },
    { place, turn: (way) => sub(place(way), place([0, 0, 0])) },
  );
  if (!found)
    return notify(
      `No surface of the ${wanted.end} is there. Click the face of an obstacle or a zone${wanted.end === 'lid' ? ', or the lid' : ''}, or the line where it is seen from its edge.`,
    );
  if (edit('Take the surface clicked', (job) => standOnSurface(job, { ...wanted, normal: found.normal }))) {
    leaveSurface();
    notify(`The ${wanted.end} end stands on: ${found.name}.`);
  }
}

/** An end's mount: on the surface that its ball stands over, else flat under its stud. */
export function giveMount(strut: string, end: EndName): void {
  const { resolved } = bench.getState();
  const ball = resolved.points.find((q) => q.id === presentJob().struts.find((s) => s.id === strut)?.[end])?.at;
  const under = ball && surfaceUnder(surfacesNow(), ball, end);
  if (edit('Give the end a mount', (job) => standOnSurface(job, { strut, end, normal: under?.normal })) && under)
    notify(`The ${end} end stands on: ${under.name}.`);
}
