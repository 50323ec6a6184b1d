// What the headless command was asked for.
import { parseArgs } from 'node:util';
import { fail } from '../../core/error';
import type { UsualOptions } from '../../core/job';
import type { SizeTexts } from '../../core/start/sizes-text';
import { PAPER_FORMATS, PAPER_KINDS, type PaperFormatName, type PaperKind } from '../../core/papers/kinds';

const listed = (names: readonly string[]): string => names.join(', ');

export const HELP = `Usage:
  lidwright check JOB.lidjob [--json]
      Checks the job in every load case and prints the findings, worst first.
      --json   prints the whole result (travel tables and findings) as JSON instead

  lidwright papers JOB.lidjob --out DIR [--only KINDS] [--format FORMATS] [--together | --zip]
                   [--date YYYY-MM-DD]
                   [--paper A4|A3] [--projection first|third]
      Draws the job's papers into DIR: one PDF a paper, an SVG and a DXF a sheet, solids of brackets and wedges as STL and 3MF.
      --only         which papers, with commas between: ${listed(PAPER_KINDS.slice(0, 8))},
                     ${listed(PAPER_KINDS.slice(8))} (all of them without it)
      --format       ${listed(PAPER_FORMATS)}, with commas between (all of them without it; what is only read gets no DXF)
      --together     all of them in one PDF to print
      --zip          all files in one ZIP with an index page
      --date         the day on the papers (today without it)
      --paper        the sheet's size (as the job says, else A4)
      --projection   first-angle or third-angle views (as the job says, else first)

  lidwright trace MARKS.json --out JOB.lidjob
      Makes a whole job from a photo of the lid's side, closed, and the places of its parts on it. MARKS.json:
        { "photo": "side.jpg",                                          beside MARKS.json
          "level": { "from": [x, y], "to": [x, y], "along": "level" },  or "plumb"; or { "rotationDeg": 0 }
          "scale": { "from": [x, y], "to": [x, y], "lengthMm": "20 in" },
          "marks": { "hinge": [x, y], "edge": …, "grip": …, "base": …, "lid": …, "mass": … },
          "widthMm": 900, "kg": 25, "openDeg": 75 }                     these three are assumed without
      Pixels count from the upper left corner of the upright photo. Sizes may be texts with units.

  lidwright new --width W --depth D --thickness T [--material NAME] --out JOB.lidjob [sizes]
      Makes a whole job from a lid's sizes: a strut, its place, load cases and limits, all to be changed later.
      --width        along the hinges;  --depth   from the hinged to the free edge
      --thickness    of one material (birch plywood without --material), or instead, once for each layer,
      --layer        "name; thickness; kg/m³" from the inside outwards; known materials need no kg/m³
      --kg           mass of the bare lid as weighed (from thickness and density without it)
      --thing        "name; mass; out from the hinge; over the lid; to the left; off", up to three; the last
                     three parts may be left out; "off" says that it can come off
      --lies         opens-up, opens-down, flap, ramp, door-left or door-right (opens-up without it)
      --inset        hinge line in from the hinged edge;  --height  room for a strut below (behind) the lid
      --open         how far it opens (75°);  --skew  turn of the hinge line;  --struts  1 or 2
      --cold --hot --slope            °C, °C and degrees to count with
      --lift --shut --let-go          most hand force to open, to shut; most energy when let go (J)
      --seal         "force; over" of a seal that pushes the lid open
      Sizes may have units: "2 ft 6 in", "18 mm", "12 lb". Without one: mm, kg, N, degrees, °C.

  lidwright cases JOB.lidjob --out NEW.lidjob [--cold=-20] [--hot=50] [--slope=5] [--aged=15] [--wind=0]
                  [--off=IDS] [--vehicle] [--boat=ROLL,S,PITCH,S,HEIGHT,AHEAD]
      Adds the usual load cases that the job has none like, what comes together in one; its own stay as they are.
      --cold, --hot  °C; none leaves that out.  --slope  degrees, nose and sides.  --aged  % of the pressure lost
      --wind         m/s, opening and shutting the lid.  --off  ids of masses that come off, with commas, or none
      --vehicle      hard braking 0.8 g, 0.5 g sideways and backwards
      --boat         greatest roll and pitch in degrees, each with the seconds there and back, height over the axis
                     and place ahead of midships in mm: --boat=10,6,5,4,1000,0. Quasi-static

  lidwright list STRUTS.csv [--json]
      Reads a strut list as the page does: which column is taken for what, how many struts it holds, and every line
      that can't be read.
      --json   prints the struts and the faults as JSON instead

  lidwright need JOB.lidjob [--for home|work] [--json]
      Says whether the lid needs help at all: what it asks of the hand without struts and springs and what it does
      when it is let go, against EN 1005-3, and what would serve, from nothing to a pair of struts.
      --for    anybody at home (without it), or grown-ups at work

  lidwright strut READINGS.json [--json] [--out LIST.csv]
      Says what a strut is that lies on the bench, from scale readings pressed in and let out at two or more lengths:
        { "name": "Old hatch strut", "extendedMm": 500, "strokeMm": 200, "rodMm": 8, "tubeMm": 18, "tempC": 20,
          "labelN": 400, "readings": [ { "lengthMm": 460, "way": "in", "forceN": "44 kgf", "plusMinusN": 8 }, … ] }
      F1, force ratio and friction come out with ± (95 %). labelN may be left out; sizes may be texts with units.
      --out   writes it as a strut list of its own, which "find" and the page take

  lidwright find JOB.lidjob [--list STRUTS.csv] [--best N] [--json] [--apply K --out NEW.lidjob]
      Looks for places for the job's first strut in its zones, with every strut of the list and every force, and
      prints up to N that differ (6 without it). Where none works it prints the nearest and what would have to give.
      --list   the struts to choose from (as the job says, else the generic list)
      --json   prints the places as JSON instead
      --apply  writes the job with place K of the list as --out

  lidwright study JOB.lidjob [--variants N] [--json]
      How exactly the job's first strut has to be where it is: how far both balls may be off their marks, what share
      of N lids built with everyday errors fails (100,000 without it), of what, and what would help most to know
      better. Points that the job's readings measure are off by the ± of those.
      --json   prints the study as JSON, the 5 and 95 % bands of the hand force with it

  lidwright --help | --version

Exit code: 0 no finding fails, every paper is drawn, every line read, a place found, at most 5 % of the
lids of a study fail; 1 at least one is not so; 2 the job, the list or
the command can't be read.
A finding that is "not known" does not fail, but it has not been shown to hold either: read its advice.

The sums are no substitute for judgement on the spot: keep a prop under the lid until the strut is fitted and proven.
`;

type Paper = 'A4' | 'A3';
type Projection = 'first' | 'third';

export interface PapersCommand {
  kind: 'papers';
  job: string;
  out: string;
  paper: Paper | null;
  projection: Projection | null;
  /** null: every kind. */
  only: readonly PaperKind[] | null;
  /** null: every format. */
  formats: readonly PaperFormatName[] | null;
  /** All papers in one PDF. */
  together: boolean;
  zip: boolean;
  /** YYYY-MM-DD; null: today. */
  date: string | null;
}

export interface TraceCommand {
  kind: 'trace';
  /** The file of marks. */
  job: string;
  out: string;
}

export interface NewCommand {
  kind: 'new';
  /** The job to write, for what is said of it. */
  job: string;
  sizes: SizeTexts;
  out: string;
}

export interface CasesCommand {
  kind: 'cases';
  job: string;
  out: string;
  options: Partial<UsualOptions>;
}

export interface ListCommand {
  kind: 'list';
  /** The file of struts. */
  job: string;
  json: boolean;
}

export interface FindCommand {
  kind: 'find';
  job: string;
  /** The file of struts; null: as the job says. */
  list: string | null;
  /** Most places; null: as many as are usual. */
  best: number | null;
  json: boolean;
  apply: { number: number; out: string } | null;
}

export interface NeedCommand {
  kind: 'need';
  job: string;
  mover: 'home' | 'work';
  json: boolean;
}

export interface StrutCommand {
  kind: 'strut';
  /** The file of readings. */
  job: string;
  json: boolean;
  /** The list to write; null: none. */
  out: string | null;
}

export interface StudyCommand {
  kind: 'study';
  job: string;
  /** Lids built with errors; null: as many as are usual. */
  variants: number | null;
  json: boolean;
}

export type Command =
  | { kind: 'help' }
  | { kind: 'version' }
  | { kind: 'check'; job: string; json: boolean }
  | PapersCommand
  | TraceCommand
  | NewCommand
  | ListCommand
  | CasesCommand
  | NeedCommand
  | StrutCommand
  | FindCommand
  | StudyCommand;

const text = { type: 'string' } as const;
const many = { type: 'string', multiple: true } as const;
/** Options that only "new" takes: one number each, and the others. */
const SIZE_OPTIONS = {
  ...{ width: text, depth: text, kg: text, inset: text, height: text, open: text, skew: text },
  ...{ cold: text, hot: text, slope: text, lift: text, shut: text, 'let-go': text },
  ...{ title: text, lies: text, thickness: text, material: text, seal: text, struts: text, layer: many, thing: many },
} satisfies Record<keyof SizeTexts, typeof text | typeof many>;
/** What "cases" takes beside cold, hot and slope. */
const CASE_OPTIONS = { aged: text, wind: text, off: text, boat: text, vehicle: { type: 'boolean' } } as const;

const SEE_HELP = 'See "lidwright --help".';

function oneOf<T extends string>(option: string, value: string | undefined, allowed: readonly T[]): T | null {
  if (value === undefined) return null;
  const found = allowed.find((each) => each.toLowerCase() === value.toLowerCase());
  return found ?? fail(`--${option} is "${value}"; it can be ${allowed.join(' or ')}.`, [], SEE_HELP);
}

/** Some of a list, with commas between; each once, in the list's order. */
function someOf<T extends string>(option: string, value: string | undefined, allowed: readonly T[]): T[] | null {
  if (value === undefined) return null;
  const asked = value
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
  if (asked.length === 0) return fail(`--${option} is empty; it can be ${allowed.join(', ')}.`, [], SEE_HELP);
  const chosen = asked.map((word) => oneOf(option, word, allowed));
  return allowed.filter((each) => chosen.includes(each));
}

function dayOf(text: string): string {
  const day = /^\d{4}-\d\d-\d\d$/.test(text) ? new Date(`${text}T00:00:00Z`) : null;
  if (!day || Number.isNaN(day.getTime()) || day.toISOString().slice(0, 10) !== text)
    return fail(`--date is "${text}", which is no day.`, [], 'Write it as 2026-01-31.');
  return text;
}

/** "--cold -5" as "--cold=-5": a number below zero is no option. */
const numbersJoined = (argv: readonly string[]): string[] =>
  argv.reduce<string[]>((args, arg) => {
    const before = args.at(-1);
    if (before?.startsWith('--') && !before.includes('=') && /^-[\d.]/.test(arg))
      args[args.length - 1] = `${before}=${arg}`;
    else args.push(arg);
    return args;
  }, []);

function parsed(argv: readonly string[]) {
  try {
    return parseArgs({
      args: numbersJoined(argv),
      allowPositionals: true,
      options: {
        help: { type: 'boolean', short: 'h' },
        version: { type: 'boolean' },
        json: { type: 'boolean' },
        out: { type: 'string' },
        paper: { type: 'string' },
        projection: { type: 'string' },
        only: { type: 'string' },
        format: { type: 'string' },
        together: { type: 'boolean' },
        zip: { type: 'boolean' },
        date: { type: 'string' },
        ...SIZE_OPTIONS,
        ...CASE_OPTIONS,
        for: { type: 'string' },
        list: { type: 'string' },
        best: { type: 'string' },
        apply: { type: 'string' },
        variants: { type: 'string' },
      },
    });
  } catch (error) {
    const words = error instanceof Error ? error.message.split('. ')[0] : String(error);
    return fail(`The command can't be read: ${words}.`, [], SEE_HELP);
  }
}

function readNew({ out, ...sizes }: ReturnType<typeof parsed>['values'], more: readonly string[]): NewCommand {
  if (more.length > 0) return fail(`"lidwright new" takes options only; "${more.join('", "')}" is none.`, [], SEE_HELP);
  const stranger = Object.keys(sizes).find((name) => !(name in SIZE_OPTIONS));
  if (stranger !== undefined) return fail(`--${stranger} does not belong to "lidwright new".`, [], SEE_HELP);
  if (out === undefined || out === '')
    return fail('"lidwright new" needs a file to write.', [], 'Add --out JOB.lidjob.');
  return { kind: 'new', job: out, sizes, out };
}

const OPTIONS_OF: Readonly<
  Record<'check' | 'list' | 'papers' | 'trace' | 'cases' | 'need' | 'strut' | 'find' | 'study', readonly string[]>
> = {
  check: ['json'],
  list: ['json'],
  papers: ['out', 'paper', 'projection', 'only', 'format', 'together', 'zip', 'date'],
  trace: ['out'],
  need: ['for', 'json'],
  strut: ['json', 'out'],
  find: ['list', 'best', 'json', 'apply', 'out'],
  study: ['variants', 'json'],
  cases: ['out', 'cold', 'hot', 'slope', ...Object.keys(CASE_OPTIONS)],
};
const isVerb = (word: string | undefined): word is keyof typeof OPTIONS_OF =>
  word !== undefined && Object.hasOwn(OPTIONS_OF, word);

function numberOf(option: string, text: string): number {
  const value = text.trim() === '' ? NaN : Number(text);
  return Number.isFinite(value) ? value : fail(`--${option} is "${text}", which is no number.`, [], SEE_HELP);
}

type CaseValues = Partial<Record<'cold' | 'hot' | 'slope' | 'aged' | 'wind' | 'off' | 'boat', string>> & {
  readonly vehicle?: boolean;
};

/** What the usual load cases are to be made from; what is not named is left to the usual. */
function optionsOf({ cold, hot, slope, aged, wind, off, boat, vehicle }: CaseValues): Partial<UsualOptions> {
  const heat = (option: string, text: string): number | null => (text === 'none' ? null : numberOf(option, text));
  const over0 = (option: string, text: string): number => {
    const value = numberOf(option, text);
    return value >= 0 ? value : fail(`--${option} is under 0.`, [], SEE_HELP);
  };
  const tilt = slope === undefined ? null : over0('slope', slope);
  return {
    ...(cold === undefined ? {} : { coldC: heat('cold', cold) }),
    ...(hot === undefined ? {} : { hotC: heat('hot', hot) }),
    ...(tilt === null ? {} : { noseDeg: tilt, sideDeg: tilt }),
    ...(aged === undefined ? {} : { ageLossPercent: over0('aged', aged) }),
    ...(wind === undefined ? {} : { windMs: over0('wind', wind) }),
    ...(off === undefined ? {} : { off: off === 'none' ? [] : off.split(',').map((id) => id.trim()) }),
    ...(vehicle ? { onVehicle: true } : {}),
    ...(boat === undefined ? {} : { onBoat: boatOf(boat) }),
  };
}

function boatOf(text: string): UsualOptions['onBoat'] {
  const numbers = text.split(',').map((word) => numberOf('boat', word));
  const [rollDeg, rollS, pitchDeg, pitchS, heightMm, aheadMm] = numbers;
  if (numbers.length !== 6 || !(rollS! > 0 && pitchS! > 0 && rollDeg! >= 0 && pitchDeg! >= 0))
    return fail(`--boat is "${text}"; it wants six numbers, the angles from 0 and the seconds over 0.`, [], SEE_HELP);
  return {
    rollDeg: rollDeg!,
    rollS: rollS!,
    pitchDeg: pitchDeg!,
    pitchS: pitchS!,
    heightMm: heightMm!,
    aheadMm: aheadMm!,
  };
}

function readFind(
  job: string,
  {
    list,
    best,
    json,
    apply,
    out,
  }: Pick<ReturnType<typeof parsed>['values'], 'list' | 'best' | 'json' | 'apply' | 'out'>,
): FindCommand {
  const count = (option: string, text: string): number =>
    /^[1-9]\d{0,2}$/.test(text)
      ? Number(text)
      : fail(`--${option} is "${text}"; it wants a number from 1.`, [], SEE_HELP);
  if ((apply === undefined) !== (out === undefined) || out === '' || list === '')
    return fail(
      list === '' ? '--list names no file.' : '--apply and --out belong together: which place, and the job to write.',
      [],
      SEE_HELP,
    );
  return {
    kind: 'find',
    job,
    list: list ?? null,
    best: best === undefined ? null : count('best', best),
    json: json === true,
    apply: apply === undefined ? null : { number: count('apply', apply), out: out! },
  };
}

const LEAST_VARIANTS = 1000;
const MOST_VARIANTS = 10_000_000;

function readStudy(
  job: string,
  { variants, json }: { readonly variants?: string; readonly json?: boolean },
): StudyCommand {
  const count = variants === undefined ? null : numberOf('variants', variants);
  if (count !== null && !(Number.isInteger(count) && count >= LEAST_VARIANTS && count <= MOST_VARIANTS))
    return fail(`--variants is "${variants}"; it wants a whole number from 1000 to 10000000.`, [], SEE_HELP);
  return { kind: 'study', job, variants: count, json: json === true };
}

/** Reads the command line; throws a LidwrightError in plain words. */
export function readCommand(argv: readonly string[]): Command {
  const { values, positionals } = parsed(argv);
  if (values.help || argv.length === 0) return { kind: 'help' };
  if (values.version) return { kind: 'version' };

  const [verb, job, ...more] = positionals;
  if (verb === 'new') return readNew(values, positionals.slice(1));
  if (!isVerb(verb))
    return fail(
      `"${verb ?? ''}" is no command; there are check, papers, trace, list, new, cases, need, strut, find and study.`,
      [],
      SEE_HELP,
    );
  if (job === undefined)
    return fail(
      `"lidwright ${verb}" needs a ${verb === 'trace' ? 'file of marks' : verb === 'list' ? 'file of struts' : verb === 'strut' ? 'file of readings' : 'job file'}.`,
      [],
      SEE_HELP,
    );
  if (more.length > 0) return fail(`One job at a time: "${more.join('", "')}" is one too many.`, [], SEE_HELP);

  const strangers = Object.keys(values).filter((name) => !OPTIONS_OF[verb].includes(name));
  if (strangers.length > 0) return fail(`--${strangers[0]} does not belong to "lidwright ${verb}".`, [], SEE_HELP);
  if (verb === 'check' || verb === 'list') return { kind: verb, job, json: values.json === true };
  if (verb === 'need')
    return { kind: verb, job, mover: oneOf('for', values.for, ['home', 'work']) ?? 'home', json: values.json === true };
  if (verb === 'strut') {
    if (values.out === '') return fail('--out names no file.', [], SEE_HELP);
    return { kind: verb, job, json: values.json === true, out: values.out ?? null };
  }
  if (verb === 'find') return readFind(job, values);
  if (verb === 'study') return readStudy(job, values);
  if (values.out === undefined || values.out === '')
    return verb === 'papers'
      ? fail('"lidwright papers" needs a folder to write into.', [], 'Add --out DIR.')
      : fail(`"lidwright ${verb}" needs a file to write.`, [], 'Add --out JOB.lidjob.');
  if (verb === 'cases') return { kind: 'cases', job, out: values.out, options: optionsOf(values) };
  if (verb === 'trace') return { kind: 'trace', job, out: values.out };
  if (values.together && values.format !== undefined)
    return fail('--together makes one PDF, and --format asks for others.', [], 'Leave out one of them.');
  if (values.together && values.zip)
    return fail('--together makes one PDF, --zip one ZIP of all files.', [], 'Leave out one of them.');
  return {
    kind: 'papers',
    job,
    out: values.out,
    paper: oneOf('paper', values.paper, ['A4', 'A3']),
    projection: oneOf('projection', values.projection, ['first', 'third']),
    only: someOf('only', values.only, PAPER_KINDS),
    formats: someOf('format', values.format, PAPER_FORMATS),
    together: values.together === true,
    zip: values.zip === true,
    date: values.date === undefined ? null : dayOf(values.date),
  };
}
