import { type Job, addPoint, addStrut, freshId } from '../job';

/** What gas springs of a rod and tube this size mostly are. Common practice, no source. */
export const USUAL_GAS = {
  ratio: 1.35,
  rodMm: 8,
  tubeMm: 18,
  frictionN: 30,
  toleranceN: [-25, 25] as [number, number],
};
/** A ball stud across the lid's side. */
export const BALL_STUD = { fitting: 'ball-stud', rangeDeg: 18, stem: [0, -1, 0] as [number, number, number] };

/** Adds a strut like the last one, shifted so that it can be seen; without one, a usual strut at `centre` (mm). */
export function addAnotherStrut(job: Job, centre: readonly [number, number, number]): Job {
  const model = job.struts.at(-1);
  const name = `Strut ${job.struts.length + 1}`;
  const place = (id: string | undefined, shift: number): [number, number, number] => {
    const p = job.points.find((q) => q.id === id)?.at.map((v) => (typeof v === 'number' ? v : 0));
    return p
      ? [p[0]! + 20, p[1]! + 20, p[2]!]
      : [Math.round(centre[0] + shift), Math.round(centre[1]), Math.round(centre[2] + shift)];
  };
  const id = freshId(job, 'struts', 's1');
  const [base, lid] = [freshId(job, 'points', `${id}-base`), freshId(job, 'points', `${id}-lid`)];
  const withBase = addPoint(job, { id: base, name: `${name}, base end`, on: 'base', at: place(model?.base, 0) });
  const withBoth = addPoint(withBase, { id: lid, name: `${name}, lid end`, on: 'lid', at: place(model?.lid, 200) });
  const usual = {
    quantity: 1 as const,
    spec: { extendedMm: 500, strokeMm: 200, forceN: 300, ...USUAL_GAS },
    ends: { base: BALL_STUD, lid: BALL_STUD },
  };
  return addStrut(withBoth, { strut: { ...(model ?? usual), id, name, base, lid } });
}
