import type { Issue } from '../error';
import { OBSERVATION_SHAPE, RELATION_SHAPE } from './survey-kinds';
import type { CheckedJob } from './parts';

type Where = readonly (string | number)[];

/** What a reading or relation refers to that isn't there, takes too few or too many of, or lacks. */
export function surveyIssues(job: CheckedJob, reading?: string): Issue[] {
  const issues: Issue[] = [];
  const points = new Set(job.points.map((p) => p.id));
  const photos = new Set(job.photos.map((p) => p.id));
  const struts = new Set(job.struts.map((s) => s.id));
  const say = (what: string, where: Where, advice: string): void => void issues.push({ what, where, advice });
  const check = (ids: readonly string[], where: Where, name: string, needsDifferent: boolean): void => {
    ids.forEach((id, k) => {
      if (!points.has(id))
        say(`${name} is at the point "${id}", which is not there`, [...where, k], 'Choose another point.');
      else if (needsDifferent && ids.indexOf(id) < k)
        say(`${name} has the point "${id}" twice`, [...where, k], 'Choose two different points.');
    });
  };

  job.observations.forEach((o, i) => {
    const name = reading ?? `the reading "${o.name ?? o.id}"`;
    const where = ['observations', i] as const;
    const shape = OBSERVATION_SHAPE[o.kind];
    if (o.points.length !== shape.points.length)
      say(
        `${name} has ${o.points.length} points and needs ${shape.points.length}`,
        [...where, 'points'],
        `Choose: ${shape.points.join(', ')}.`,
      );
    check(o.points, [...where, 'points'], name, o.kind !== 'angle-between');
    if (o.kind === 'angle-between' && (o.points[0] === o.points[1] || o.points[2] === o.points[3]))
      say(`${name} has a line of one point`, [...where, 'points'], 'Choose two different points for each line.');
    if (shape.unit === 'mm' && o.valueMm === undefined)
      say(`${name} has no length`, [...where, 'valueMm'], 'Type what was read.');
    if (shape.unit === 'deg' && o.valueDeg === undefined)
      say(`${name} has no angle`, [...where, 'valueDeg'], 'Type what was read.');
    if (o.kind === 'photo-mark') {
      if (!photos.has(o.photo ?? ''))
        say(`${name} is on the photo "${o.photo ?? ''}", which is not there`, [...where, 'photo'], 'Choose a photo.');
      if (o.px === undefined) say(`${name} has no pixel`, [...where, 'px'], 'Click it on the photo again.');
    }
    if (o.kind === 'coordinate' && o.axis === undefined)
      say(`${name} does not say which coordinate`, [...where, 'axis'], 'Choose x, y or z.');
    if ((o.kind === 'tape' || o.kind === 'known-length') && o.valueMm !== undefined && !(o.valueMm > 0))
      say(`${name} is ${o.valueMm} mm long`, [...where, 'valueMm'], 'A length between two points is over 0.');
    if (o.kind === 'angle-between' && o.valueDeg !== undefined && !(o.valueDeg >= 0))
      say(`${name} is ${o.valueDeg}°`, [...where, 'valueDeg'], 'An angle between two lines lies from 0° to 180°.');
  });

  job.relations.forEach((r, i) => {
    const name = `the condition "${r.name ?? r.id}"`;
    const where = ['relations', i] as const;
    const { points: counts, value, view } = RELATION_SHAPE[r.kind];
    const count = r.points?.length ?? 0;
    if (r.kind === 'on-plane' ? !(count === 4 || (count === 1 && r.axis)) : count < counts[0] || count > counts[1])
      say(
        r.kind === 'on-plane'
          ? `${name} needs the point and three more in the plane, or the point and an axis`
          : `${name} has ${count} points and needs ${counts[0]}${counts[1] > counts[0] ? ` to ${counts[1]}` : ''}`,
        [...where, 'points'],
        'Choose its points anew.',
      );
    check(r.points ?? [], [...where, 'points'], name, r.kind !== 'equal-distance' && r.kind !== 'angle');
    const [a, b, c, d] = r.points ?? [];
    if ((r.kind === 'equal-distance' || r.kind === 'angle') && (a === b || (d !== undefined && c === d)))
      say(`${name} has a line of one point`, [...where, 'points'], 'Choose two different points for each line.');
    if (value && r[value] === undefined)
      say(`${name} has no value`, [...where, value], value === 'valueMm' ? 'Type a length.' : 'Type an angle.');
    if (value === 'valueMm' && r.valueMm !== undefined && !(r.valueMm > 0))
      say(`${name} asks for ${r.valueMm} mm`, [...where, 'valueMm'], 'Ask for a length over 0.');
    if (r.kind === 'angle' && count > 2 && r.valueDeg !== undefined && !(r.valueDeg > 0 && r.valueDeg < 180))
      say(
        `${name} asks for ${r.valueDeg}°`,
        [...where, 'valueDeg'],
        'Ask for an angle between 0° and 180°, or use "in line" instead.',
      );
    if (r.kind === 'angle' && count === 2 && r.valueDeg !== undefined && !(Math.abs(r.valueDeg) < 90))
      say(
        `${name} asks for ${r.valueDeg}° to level`,
        [...where, 'valueDeg'],
        'Ask for less than 90°, or use "plumb with".',
      );
    if (r.kind === 'on-plane' && count === 1 && r.valueMm === undefined)
      say(`${name} does not say where the plane lies`, [...where, 'valueMm'], 'Type where it crosses the axis.');
    if (r.view && !view) say(`${name} can't be held in one view only`, [...where, 'view'], 'Take the view away.');
    if ((r.kind === 'closed-length' || r.kind === 'open-length') && !struts.has(r.strut ?? ''))
      say(`${name} is about the strut "${r.strut ?? ''}", which is not there`, [...where, 'strut'], 'Choose a strut.');
  });
  return issues;
}
