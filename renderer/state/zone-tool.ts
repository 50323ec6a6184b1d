// Drawing a zone: corners clicked in one view, closed into a flat patch that stands square to it.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { type NewZone, addZone } from '../../core/find';
import { resolveJob } from '../../core/job';
import { PROJECTIONS, type Plane } from './planes';
import { bench, edit, notify, presentJob, setAngle } from './store';

/** A zone under way: places on paper as the view has them, mm; the first click says in which view. */
export interface ZoneDraft {
  readonly on: 'base' | 'lid';
  readonly plane: Plane | null;
  readonly corners: readonly (readonly [number, number])[];
}

export const zoneTool = createStore<{ readonly draft: ZoneDraft | null }>(() => ({ draft: null }));
export const useZoneTool = <T>(select: (draft: ZoneDraft | null) => T): T => useStore(zoneTool, (s) => select(s.draft));

/** Takes the tool up; what rides on the lid is drawn with the lid closed. */
export function drawZone(on: 'base' | 'lid'): void {
  if (on === 'lid') setAngle(0);
  bench.setState({ tool: null, selection: null });
  zoneTool.setState({ draft: { on, plane: null, corners: [] } });
}

export const leaveZone = (): void => zoneTool.setState({ draft: null });

/** So near its first corner a click closes the zone, px. */
const CLOSE_PX = 12;

/** A click on the paper of a view. */
export function clickZone(plane: Plane, at: readonly [number, number]): void {
  const { draft } = zoneTool.getState();
  if (!draft) return;
  if (draft.plane !== null && draft.plane !== plane)
    return notify('A zone is drawn in one view: go on where it was begun, or press Esc.');
  const [first] = draft.corners;
  const near = first && Math.hypot(first[0] - at[0], first[1] - at[1]) * bench.getState().sheet.pxPerMm < CLOSE_PX;
  if (near && draft.corners.length >= 3) return closeZone();
  zoneTool.setState({ draft: { ...draft, plane, corners: [...draft.corners, at] } });
}

const tenth = (v: number): number => Math.round(v * 10) / 10 + 0;
/** A ball stands so far off a drawn surface where nobody has said, mm; the surface lies under the strut's ball by the middle of it. */
const OFF_MM = [10, 60] as const;

/** Makes the zone of the corners clicked. It looks to where the strut's ball is, or to the middle of the hinge. */
export function closeZone(): void {
  const { draft } = zoneTool.getState();
  if (!draft?.plane) return;
  if (draft.corners.length < 3) return notify('A zone has three corners at least.');
  const { right, rightSign, up, depth } = PROJECTIONS[draft.plane];
  const job = resolveJob(presentJob());
  const at = (id: string | undefined): readonly number[] | undefined => job.points.find((p) => p.id === id)?.at;
  const ball = at(job.struts[0]?.[draft.on]) ?? at(job.hinge.a)!;
  const middle = (at(job.hinge.a)![depth]! + at(job.hinge.b)![depth]!) / 2;
  // seen from the side a wall looks to the lid's middle; from above the base looks up and the lid down
  const sign = depth === 2 ? (draft.on === 'base' ? 1 : -1) : ball[depth]! > middle ? -1 : 1;
  const surface = tenth(ball[depth]! - (sign * (OFF_MM[0] + OFF_MM[1])) / 2);
  const faces = [0, 0, 0];
  faces[depth] = sign;
  const zone = {
    on: draft.on,
    corners: draft.corners.map(([x, y]) => {
      const corner = [0, 0, 0];
      [corner[right], corner[up], corner[depth]] = [tenth(rightSign * x), tenth(y), surface];
      return corner;
    }),
    faces,
    offMm: [...OFF_MM],
    strength: 'plain',
  } as unknown as NewZone;
  if (edit('Draw a zone', (now) => addZone(now, { zone }))) leaveZone();
}
