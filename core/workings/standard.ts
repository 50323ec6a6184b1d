import { type Advice, type Case, type Look, adviceSteps, advised as withAdvice, wantsAdvice } from '../advice';
import { bracketSpecOf, checkBracket } from '../bracket';
import { fail } from '../error';
import {
  CHECKS,
  bracketFactors,
  bracketStrength,
  type Check,
  type CheckContext,
  type CheckSources,
  type Finding,
  clearanceMesh,
  lidRooms,
  loadBodies,
  roomQuestion,
  advisoryOnly,
} from '../findings';
import {
  type Bracket,
  CHECKED_PARTS,
  type JobPart,
  type LoadCase,
  type ResolvedJob,
  type StrangeKey,
  assertComputable,
  strangeKeys,
} from '../job';
import type { ShownUnits } from '../quantity';
import { type Assessment, assessBracket, notAssessed } from '../strength';
import {
  FRAME_PARTS,
  type LetGo,
  type Linkage,
  type Plan,
  type TravelTable,
  caseTable,
  frameOf,
  kinematics,
  letGo,
  makePlan,
  passageOf,
  travelAngles,
} from '../travel';
import { type Part, Parts, part, picked } from './parts';

const checkedJob = picked(...CHECKED_PARTS);
const frameJob = picked(...FRAME_PARTS);
const loadedJob = picked('struts', 'loadCases');
const roomJob = picked('points', 'outline', 'panel', 'obstacles', 'brackets', 'limits');

/** Throws where the job can't be computed: what it says is the same object whatever else changes. */
const computable = part(
  'computable',
  (w: Parts) => [w.of(checkedJob)],
  (job) => {
    assertComputable(job);
    return true;
  },
);

export const frame = part(
  'frame',
  (w: Parts) => [w.of(computable), w.of(frameJob)],
  (_, job) => frameOf(job),
);

export const plans = part(
  'plans',
  (w: Parts) => [w.of(frame)],
  (of): readonly Plan[] => of.job.loadCases.map((c) => makePlan(of, c.id)),
);

const angles = part(
  'angles',
  (w: Parts) => [w.of(frame).openDeg],
  (openDeg) => travelAngles(openDeg),
);

/** A force, a mass or a name leaves it as it was: compared by value. */
const linkage = part(
  'linkage',
  (w: Parts) => [w.of(frame)],
  ({ axis, grip, gripRadiusMm, struts, springs, seal }): Linkage => ({
    ...{ axis, grip, gripRadiusMm, struts, springs, seal },
  }),
  { byValue: true },
);

/** Compared by value too, so that a force does not send the struts round every obstacle again. */
const passage = part(
  'passage',
  (w: Parts) => [w.of(plans)],
  (of) => passageOf(of[0]!),
  { byValue: true },
);

export const poses = part('kinematics', (w: Parts) => [w.of(linkage), w.of(angles)], kinematics);

export const tables = part(
  'tables',
  (w: Parts) => [w.of(plans), w.of(poses)],
  (of, at): readonly TravelTable[] => of.map((plan) => caseTable(plan, at)),
);

export const letGos = part(
  'let go',
  (w: Parts) => [w.of(plans)],
  (of): readonly LetGo[] => of.map(letGo),
);

const bracketOf = (w: Parts, id: string): Bracket =>
  w.job.brackets.find((b) => b.id === id) ??
  fail(`there is no bracket "${id}"`, ['brackets'], 'Choose one of the job’s.');

/**
 * For each bracket the id of the first that differs from it by id and name alone: what is found of one holds for all alike.
 * Null past the first MOST_KINDS that differ.
 */
const kinds = part(
  'kinds of brackets',
  (w: Parts) => [w.job.brackets],
  (brackets) => {
    const firstOf = new Map<string, string>();
    const kindOf = new Map<string, string>();
    for (const bracket of brackets) {
      const key = JSON.stringify({ ...bracket, id: '', name: '' });
      if (!firstOf.has(key)) firstOf.set(key, bracket.id);
      kindOf.set(bracket.id, firstOf.get(key)!);
    }
    return { kindOf, reckoned: new Set([...firstOf.values()].slice(0, MOST_KINDS)) };
  },
);

/** Of so many brackets that differ the strength is worked out: some seconds' work. */
export const MOST_KINDS = 50;

/** The bracket that stands for this one. */
export const kindOf = (w: Parts, id: string): string => w.of(kinds).kindOf.get(id) ?? id;

export const issues = part(
  'issues',
  (w: Parts, id) => [bracketOf(w, id)],
  (bracket) => checkBracket(bracketSpecOf(bracket)),
);

const mesh = part('mesh', (w: Parts, id) => [bracketOf(w, id)], clearanceMesh);

/** Strength of the bracket that stands for all of its kind. */
export const kindAssessment = part(
  'assessment of a kind',
  (w: Parts, id) => [w.of(loadedJob), w.of(plans), w.of(tables), bracketOf(w, id), w.of(kinds).reckoned.has(id)],
  (job, plans, tables, bracket, reckoned) =>
    reckoned
      ? assessBracket(job, plans, tables, bracket)
      : notAssessed(
          bracket,
          `the job has more than ${MOST_KINDS} different brackets, and that of the first ${MOST_KINDS} is worked out`,
          'Make those alike that may be alike, or put this one into a job of its own.',
        ),
  { slow: () => true },
);

export const assessment = part(
  'assessment',
  (w: Parts, id) => [w.of(kindAssessment, kindOf(w, id)), bracketOf(w, id)],
  (found, { id, name }): Assessment => (found.bracketId === id ? found : { ...found, bracketId: id, name: name ?? id }),
);

/** A part of every bracket, as one list; of those alike it is the same object where the part is of a kind. */
const ofBrackets = <T>(of: Part<Parts, T>, keyOf: (w: Parts, id: string) => string): Part<Parts, readonly T[]> =>
  part(
    `all ${of.name}`,
    (w: Parts): readonly T[] => w.job.brackets.map((b) => w.of(of, keyOf(w, b.id))),
    (...all) => all,
  );
export const assessments = ofBrackets(assessment, (_, id) => id);

const sections = (w: Parts): Readonly<Record<string, unknown>> => ({ ...w.raw });

/** Keys that a section of the job should not have: looked for again where the section changes. */
const strangeIn = part(
  'strange keys',
  (w: Parts, section) => [section, sections(w)[section]],
  (section, value) => strangeKeys({ [section as string]: value }, section as string),
);

const strangeTop = part(
  'strange sections',
  (w: Parts) => Object.keys(sections(w)),
  (...keys) => strangeKeys(Object.fromEntries(keys.map((key) => [key, null])), null),
);

const strange = part(
  'all strange keys',
  (w: Parts): readonly (readonly StrangeKey[])[] => [
    w.of(strangeTop),
    ...Object.keys(sections(w)).map((section) => w.of(strangeIn, section)),
  ],
  (...all) => all.flat(),
  { byValue: true },
);

/** A mass leaves them as they are: compared by value. */
const loads = part('loads', (w: Parts) => [w.job.masses], loadBodies, { byValue: true });

/** What the lid's room depends on, compared by value: a strut's place or force does not send the lid past every wall again. */
const question = part('room question', (w: Parts) => [w.of(roomJob), w.of(loads), w.of(passage)], roomQuestion, {
  byValue: true,
});
const meshes = ofBrackets(mesh, kindOf);
const rooms = part('rooms', (w: Parts) => [w.of(question), w.of(meshes)], lidRooms, {
  slow: (w) => w.job.obstacles.length + w.job.brackets.length > 0,
});

const SOURCES: { readonly [K in keyof CheckSources]: (w: Parts) => CheckSources[K] } = {
  frame: (w) => w.of(frame),
  passage: (w) => w.of(passage),
  plans: (w) => w.of(plans),
  tables: (w) => w.of(tables),
  letGos: (w) => w.of(letGos),
  units: (w) => w.units,
  issues: (
    (all) => (w) =>
      w.of(all)
  )(ofBrackets(issues, kindOf)),
  meshes: (w) => w.of(meshes),
  loads: (w) => w.of(loads),
  rooms: (w) => w.of(rooms),
  assessments: (w) => w.of(assessments),
  strange: (w) => w.of(strange),
};

/** A check as parts: all that it finds, and of a slow one what there is time for in a drag. */
interface Found {
  readonly name: string;
  readonly slow: Check['slow'];
  readonly brief: Part<Parts, readonly Finding[]> | null;
  readonly full: Part<Parts, readonly Finding[]>;
}

const saidAll = (found: readonly Finding[]): boolean => found.every((finding) => !finding.more);

function partsOfCheck({ name, job, from, slow, run, brief: inBrief }: Check): Found {
  const read = picked(...job);
  const context = part(
    `${name}, context`,
    (w: Parts): readonly unknown[] => [w.of(read), ...from.map((source) => SOURCES[source](w))],
    (...[parts, ...sources]) =>
      ({ job: parts, ...Object.fromEntries(from.map((source, i) => [source, sources[i]])) }) as CheckContext,
  );
  const brief = inBrief && part(`${name}, in brief`, (w: Parts) => [w.of(context)], inBrief);
  const full = part(
    name,
    (w: Parts) => [w.of(context), brief && w.of(brief)],
    (all, short): readonly Finding[] => (short && saidAll(short) ? short : run(all)),
    { slow: (w) => slow(w.job) && !(brief && saidAll(w.of(brief))) },
  );
  return { name, slow, brief, full };
}

export const FOUND: readonly Found[] = CHECKS.map(partsOfCheck);

/** The findings of all checks as one list, from what `of` gives of each. */
const listed = (name: string, of: (w: Parts, check: Found) => readonly Finding[]) =>
  part(
    name,
    (w: Parts) => [w.job.loadCases, ...FOUND.map((check) => of(w, check))] as const,
    (loadCases: readonly LoadCase[], ...found) => advisoryOnly(loadCases, found.flat()),
  );

export const findings = listed('findings', (w, { full }) => w.of(full));
export const findingsSoFar = listed(
  'findings so far',
  (w, { brief, full }) => w.known(full) ?? (brief ? w.of(brief) : NONE),
);
export const quickFindings = listed('quick findings', (w, { slow, brief, full }) =>
  brief ? w.of(brief) : slow(w.job) ? NONE : w.of(full),
);
/** What can be judged without looking for advice, strength of brackets apart: its reserves are in the assessments. */
export const unadvised = listed('findings without advice', (w, { name, brief, full }) =>
  name === bracketStrength.name ? NONE : w.of(brief ?? full),
);
const NONE: readonly Finding[] = [];

/** All that can be judged of a changed job: no advice, every strength of a bracket. */
const reserves = part(
  'reserves',
  (w: Parts) => [w.job.brackets, w.of(assessments)],
  (_, all) => bracketFactors(all),
);
export const judged = listed('judged', (w, { name, brief, full }) =>
  name === bracketStrength.name ? w.of(reserves) : w.of(brief ?? full),
);

/** What a job is tried on: what the checks read, and nothing that only costs. */
const TRIED_PARTS = [...new Set<JobPart>([...FRAME_PARTS, ...CHECKS.flatMap((check) => check.job)])];
const triedJob = picked(...TRIED_PARTS);
const UNTRIED = { photos: [], observations: [], relations: [], zones: [] } as const;

/** The same of one check; throws where there is no such check. */
export function judgedBy(check: string): Part<Parts, readonly Finding[]> {
  if (check === bracketStrength.name) return reserves;
  const { brief, full } =
    FOUND.find(({ name }) => name === check) ?? fail(`there is no check "${check}"`, [], 'See CHECKS.');
  return brief ?? full;
}

/** Looks at changed jobs; what the job itself has alike is worked out once. */
function looksAt(job: ResolvedJob, units: ShownUnits): (job: ResolvedJob) => Look {
  const base = new Parts({ job }, units);
  return (changed) => {
    const w = changed === job ? base : new Parts({ job: changed }, units, base);
    return {
      of: (check) => w.of(judgedBy(check)),
      all: () => w.of(judged),
    };
  };
}

/** The question that advice answers. */
const adviceCase = part(
  'case for advice',
  (w: Parts) => [w.of(triedJob), w.units, ...FOUND.map((check) => w.of(check.full))] as const,
  (parts, units, ...found): Case => {
    const job = { ...UNTRIED, ...parts } as unknown as ResolvedJob;
    const byCheck = FOUND.map(({ name }, i) => [name, advisoryOnly(job.loadCases, found[i]!)] as const);
    return { job, units, found: new Map(byCheck), look: looksAt(job, units) };
  },
);

export const advice = part(
  'advice',
  (w: Parts) => [w.of(adviceCase)],
  (given): readonly Advice[] => {
    const steps = adviceSteps(given);
    for (;;) {
      const step = steps.next();
      if (step.done) return step.value;
    }
  },
  { slow: (w) => w.of(findings).some(wantsAdvice) },
);

/** The findings with what may be done about them. */
export const advised = part(
  'findings with advice',
  (w: Parts) => [w.of(findings), w.of(advice), w.of(adviceCase)],
  (found, all, given) => withAdvice(given, found, all),
);

/** The same worked out in steps, so that whoever runs them can stop. */
export const adviceInSteps = (w: Parts): Generator<number, readonly Advice[]> => adviceSteps(w.of(adviceCase));
