import { type Issue, LidwrightError } from '../error';
import { type Vec3, cross, distance, norm, perpendicularTo, plateOf, sub, unit } from '../space';
import { specIssues } from '../strut';
import { bracketNeeds } from './bracket-check';
import { obstacleIssues } from './obstacle-check';
import { proofIssues } from './proof-check';
import { surveyIssues } from './survey-check';
import type { CheckedJob } from './parts';
import type { Spring, StrutEnd } from './types';
import { weighingIssues } from './weighing-check';
import { findIssues, zoneIssues } from './zone-check';

/** Points nearer than this are one point to a person with a tape, mm. */
export const COINCIDENT_MM = 0.01;
/** A grip nearer to the axis than this can't turn a lid, mm. */
export const LEAST_GRIP_MM = 1;

type Where = readonly (string | number)[];

const someOf = (ids: readonly string[]): string =>
  ids.length === 0
    ? 'There is none yet.'
    : `There ${ids.length === 1 ? 'is' : 'are'} ${ids.slice(0, 6).join(', ')}${ids.length > 6 ? ` and ${ids.length - 6} more` : ''}.`;

/**
 * What a job refers to that isn't there, stands twice, or can't be: everything that would keep the kernel from an
 * honest answer. Empty when the job can be computed. Paths lead into the job document. `reading`: how readings are called,
 * by their names where not given.
 */
export function jobIssues(job: CheckedJob, reading?: string): Issue[] {
  const issues: Issue[] = [];
  const say = (what: string, where: Where, advice: string): void => void issues.push({ what, where, advice });

  const sections = [
    'points',
    'masses',
    'struts',
    'springs',
    'loadCases',
    'photos',
    'brackets',
    'obstacles',
    'zones',
    'observations',
    'relations',
  ] as const;
  for (const section of sections) {
    const seen = new Map<string, number>();
    (job[section] as readonly { id: string }[]).forEach((item, i) => {
      if (seen.has(item.id))
        say(
          `the id "${item.id}" stands twice in ${section}`,
          [section, i, 'id'],
          `Rename one: ${section}[${seen.get(item.id)}] has it too.`,
        );
      else seen.set(item.id, i);
    });
  }

  const points = new Map(job.points.map((p) => [p.id, p]));
  const pointIds = [...points.keys()];
  const at = (id: string, where: Where, what: string, on?: 'base' | 'lid'): Vec3 | null => {
    const point = points.get(id);
    if (!point) {
      say(`${what} is at the point "${id}", which is not there`, where, someOf(pointIds));
      return null;
    }
    if (on && point.on !== on) {
      say(
        `${what} is at the point "${id}", which rides on the ${point.on}`,
        where,
        `Put the point on the ${on}, or choose another.`,
      );
      return null;
    }
    return point.at;
  };

  const a = at(job.hinge.a, ['hinge', 'a'], 'one end of the hinge');
  const b = at(job.hinge.b, ['hinge', 'b'], 'the other end of the hinge');
  let axis: Vec3 | null = null;
  if (a && b) {
    if (distance(a, b) < COINCIDENT_MM)
      say(
        'both hinge points are at the same place, so there is no axis to turn about',
        ['hinge', 'b'],
        'Move one of them along the hinge.',
      );
    else axis = unit(sub(b, a));
  }
  const grip = at(job.grip, ['grip'], 'the grip', 'lid');
  if (grip && a && axis && norm(perpendicularTo(sub(grip, a), axis)) < LEAST_GRIP_MM)
    say(
      'the grip is on the hinge axis, where no hand can turn the lid',
      ['grip'],
      'Move the grip away from the hinge.',
    );

  const corners = job.outline.map((id, i) => at(id, ['outline', i], 'a corner of the lid'));
  const pressed = job.seal ? 'seal' : job.loadCases.some((c) => c.wind) ? 'wind' : null;
  if (pressed && corners.every((corner) => corner !== null) && plateOf(corners) === null)
    say(
      `a ${pressed} presses on the lid, but its outline has no area`,
      ['outline'],
      'Give three corners or more that do not lie in one line.',
    );
  if (job.latch) at(job.latch.at, ['latch', 'at'], 'the latch');
  job.loadCases.forEach(({ name, wind }, i) => {
    if (typeof wind?.towards === 'object' && !(norm(wind.towards) > 0))
      say(
        `the load case "${name}" has wind in no direction`,
        ['loadCases', i, 'wind', 'towards'],
        'Give "open", "shut" or a direction that is not 0, 0, 0.',
      );
  });

  job.masses.forEach((mass, i) => at(mass.at, ['masses', i, 'at'], `the mass "${mass.name ?? mass.id}"`, 'lid'));
  const massIds = new Set(job.masses.map((m) => m.id));
  job.loadCases.forEach((loadCase, i) =>
    loadCase.off.forEach((id, k) => {
      if (!massIds.has(id))
        say(
          `the load case "${loadCase.name}" takes off "${id}", which is no mass`,
          ['loadCases', i, 'off', k],
          someOf([...massIds]),
        );
    }),
  );

  job.struts.forEach((strut, i) => {
    const where = ['struts', i] as const;
    const name = `strut "${strut.name ?? strut.id}"`;
    const base = at(strut.base, [...where, 'base'], `${name}, base end,`, 'base');
    const lid = at(strut.lid, [...where, 'lid'], `${name}, lid end,`, 'lid');
    if (base && lid && distance(base, lid) < COINCIDENT_MM)
      say(`${name} has both ends at the same place when closed`, [...where, 'lid'], 'Move one end.');
    for (const issue of specIssues(strut.spec)) issues.push({ ...issue, where: [...where, 'spec', ...issue.where] });
    for (const end of ['base', 'lid'] as const)
      endIssues(strut.ends[end], [...where, 'ends', end], `${name}, ${end} end,`, say);
  });

  const strutIds = new Set(job.struts.map((s) => s.id));
  job.springs.forEach((spring, i) => springIssues(spring, ['springs', i], at, say));
  job.loadCases.forEach((loadCase, i) =>
    loadCase.lost.forEach((id, k) => {
      if (!strutIds.has(id))
        say(
          `the load case "${loadCase.name}" loses the strut "${id}", which is not there`,
          ['loadCases', i, 'lost', k],
          someOf([...strutIds]),
        );
    }),
  );
  job.brackets.forEach((bracket, i) => {
    if (!strutIds.has(bracket.strut))
      say(
        `the bracket "${bracket.name ?? bracket.id}" holds the strut "${bracket.strut}", which is not there`,
        ['brackets', i, 'strut'],
        someOf([...strutIds]),
      );
    issues.push(...bracketNeeds(bracket, ['brackets', i]));
  });
  job.photos.forEach((photo, i) => {
    const s = photo.scale;
    if (s && Math.hypot(s.to[0] - s.from[0], s.to[1] - s.from[1]) < 1)
      say(
        `the photo "${photo.name ?? photo.id}" has both scale marks on one pixel`,
        ['photos', i, 'scale'],
        'Click two marks further apart.',
      );
  });
  job.obstacles.forEach((o, i) =>
    issues.push(...obstacleIssues(o, ['obstacles', i], `the obstacle "${o.name ?? o.id}"`)),
  );
  job.masses.forEach((m, i) => {
    if (m.body) issues.push(...obstacleIssues(m.body, ['masses', i, 'body'], `the body of "${m.name ?? m.id}"`));
  });
  issues.push(...job.zones.flatMap((zone, i) => zoneIssues(zone, ['zones', i])));
  issues.push(...findIssues(job.find));
  issues.push(...surveyIssues(job, reading));
  issues.push(...weighingIssues(job));
  issues.push(...proofIssues(job));
  return issues;
}

function springIssues(
  spring: Spring,
  where: Where,
  at: (id: string, where: Where, what: string, on?: 'base' | 'lid') => Vec3 | null,
  say: (what: string, where: Where, advice: string) => void,
): void {
  const name = `spring "${spring.name ?? spring.id}"`;
  if (spring.kind === 'torsion') {
    if (spring.rateNmPerDeg === undefined)
      say(`${name} has no rate`, [...where, 'rateNmPerDeg'], 'Give its rate in N·m per degree.');
    return;
  }
  for (const end of ['base', 'lid'] as const)
    if (spring[end] === undefined) say(`${name} has no ${end} end`, [...where, end], `Choose a point on the ${end}.`);
  if (spring.rateNPerMm === undefined)
    say(`${name} has no rate`, [...where, 'rateNPerMm'], 'Give its rate in N per mm.');
  if (spring.lengthMm === undefined)
    say(`${name} has no length`, [...where, 'lengthMm'], 'Give its free length, or the length it is caged at.');
  const base = spring.base === undefined ? null : at(spring.base, [...where, 'base'], `${name}, base end,`, 'base');
  const lid = spring.lid === undefined ? null : at(spring.lid, [...where, 'lid'], `${name}, lid end,`, 'lid');
  if (base && lid && distance(base, lid) < COINCIDENT_MM)
    say(`${name} has both ends at the same place when closed`, [...where, 'lid'], 'Move one end.');
}

function endIssues(
  end: StrutEnd,
  where: Where,
  name: string,
  say: (what: string, where: Where, advice: string) => void,
): void {
  if (end.stem && end.mount) {
    say(
      `${name} has both a direction of its stud and a mount`,
      [...where, 'stem'],
      'Keep one: the direction, or the mount with azimuth and tilt.',
    );
    return;
  }
  if (!end.stem && !end.mount) {
    say(
      `${name} has neither a direction of its stud nor a mount`,
      where,
      'Give the direction of its stud, or the mount it stands on.',
    );
    return;
  }
  if (end.stem) {
    if (!(norm(end.stem) > 0))
      say(
        `${name} has a direction of its stud of no length`,
        [...where, 'stem'],
        'Give a direction that is not 0, 0, 0.',
      );
    return;
  }
  const { normal, reference } = end.mount!;
  if (!(norm(normal) > 0))
    say(
      `${name} is on a mount with a normal of no length`,
      [...where, 'mount', 'normal'],
      'Give the direction that points out of the surface.',
    );
  else if (!(norm(cross(unit(normal), reference)) > 2e-6 * norm(reference)))
    say(
      `${name} is on a mount whose reference stands along its normal`,
      [...where, 'mount', 'reference'],
      'Give a direction that lies in the surface.',
    );
}

/** Throws a LidwrightError with everything jobIssues finds. */
export function assertComputable(job: CheckedJob): void {
  const [first, ...also] = jobIssues(job);
  if (first) throw new LidwrightError(first, also);
}
