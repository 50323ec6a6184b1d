// What the guide does not keep by hand: pages made from the program's own texts and schema, and every picture, drawn by
// core from an example job or as a sketch. The same files from the same sources, byte for byte.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { demandOf } from '../../core/demands';
import {
  type LineRole,
  type Mark,
  type Point,
  type Sheet,
  arrowhead,
  boundsOf,
  boxesMeet,
  circleMark,
  drawingFont,
  grow,
  lineMark,
  movePart,
  polygonMark,
  polylineMark,
  writeSvg,
} from '../../core/drawing';
import { lettersOn, subsetFont } from '../../core/drawing/font-subset';
import { CHECK_NAMES, aboutOf } from '../../core/findings';
import { jobJsonSchema, readJob } from '../../core/job';
import { papersOf } from '../../core/papers';
import { chartHeightMm, chartPart } from '../../core/papers/chart';
import { reportCharts } from '../../core/papers/report-charts';
import { textAt } from '../../core/papers/text';
import { cos, rad, sin } from '../../core/space';
import { workingsOf } from '../../core/workings';

const root = path.resolve(import.meta.dirname, '../..');

/* Pages */

function findingsPage(): string {
  const of = (id: string): string => {
    const { name, what, how } = aboutOf(id);
    const better = demandOf(id)?.better;
    const limit = better ? ` Its number is held against a limit: at ${better === 'less' ? 'most' : 'least'} that.` : '';
    return `## <a id="${id}"></a>${name}\n\n${what}${limit}\n\nHow it is worked out: ${how}\n`;
  };
  return `# What each finding means

Every check ends in one of four words. **Holds**: what was asked is there. **Watch**: it is there, but barely, or you should know of it. **Fails**: it is not there; don’t order, don’t drill. **Not known**: a number is missing, or the strut can’t be there; the finding says what to fill in. A caution is told whatever the design, because no design clears it.

The worst stands first, with its number, its limit and the angle and load case in which it is worst. Where a change helps, it was tried on your job before it is offered.

${CHECK_NAMES.map(of).join('\n')}`;
}

interface Schema {
  readonly type?: string;
  readonly description?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema | false;
  readonly prefixItems?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly additionalProperties?: Schema;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly maxLength?: number;
  readonly maxItems?: number;
}

/** zod's bounds of a whole number that has none. */
const UNBOUND = 2 ** 53 - 1;

function wordsOf(s: Schema): string {
  if (s.description) return s.description;
  const any = s.anyOf ?? s.oneOf;
  if (any) return [...new Set(any.map(wordsOf))].join(', or ');
  if (s.const !== undefined) return `\`${JSON.stringify(s.const)}\``;
  if (s.enum) return s.enum.map((each) => `\`${JSON.stringify(each)}\``).join(', ');
  if (s.prefixItems) return `list of ${s.prefixItems.length}: ${[...new Set(s.prefixItems.map(wordsOf))].join('; ')}`;
  const most = s.maxItems === undefined ? '' : `, at most ${s.maxItems}`;
  if (s.type === 'array') return s.items ? `list${most}; each: ${wordsOf(s.items)}` : `list${most}`;
  if (s.type === 'string') return `text${s.maxLength === undefined ? '' : `, at most ${s.maxLength} letters`}`;
  if (s.type === 'boolean') return '`true` or `false`';
  if (s.type === 'object') return s.properties ? 'an object, its keys below' : 'an object';
  const bounds = [
    s.minimum !== undefined && s.minimum > -UNBOUND ? `from ${s.minimum}` : '',
    s.maximum !== undefined && s.maximum < UNBOUND ? `to ${s.maximum}` : '',
  ].filter((each) => each !== '');
  return [s.type === 'integer' ? 'whole number' : (s.type ?? 'anything'), ...bounds].join(' ');
}

/** One line a key, the keys of what it holds after it. */
function rowsOf(s: Schema, at: string): string[] {
  // a number, or what stands for one, has no keys of its own to tell of
  if (s.description) return [];
  const inside = [...(s.anyOf ?? []), ...(s.oneOf ?? []), ...(s.prefixItems ?? [])].flatMap((each) => rowsOf(each, at));
  const list = s.items ? rowsOf(s.items, `${at}[]`) : [];
  const keys = Object.entries(s.properties ?? {}).flatMap(([key, value]) => {
    const here = at === '' ? key : `${at}.${key}`;
    const needed = s.required?.includes(key) ? 'yes' : '';
    return [`| \`${here}\` | ${needed} | ${wordsOf(value).replaceAll('|', '\\|')} |`, ...rowsOf(value, here)];
  });
  return [...new Set([...inside, ...list, ...keys])];
}

function formatPage(): string {
  const schema = jobJsonSchema() as Schema;
  const parts = Object.entries(schema.properties!).map(([key, value]) => {
    const needed = schema.required?.includes(key) ? 'It must be there.' : 'It may be left out.';
    const rows = rowsOf(value, key);
    const table =
      rows.length === 0 ? '' : `\n| key | must be there | what it holds |\n|---|---|---|\n${rows.join('\n')}\n`;
    return `## <a id="key-${key}"></a>\`${key}\`\n\n${wordsOf(value)}. ${needed}\n${table}`;
  });
  return `# The job file

A job is one file that ends in \`.lidjob\`: JSON, one object. With photos inside it is a ZIP of \`job.json\` and the pictures, under the same ending. Lengths are in mm, masses in kg, forces in N, moments in N·m, angles in degrees, temperatures in °C; X runs forward, Y to the left, Z up, lid closed (ISO 8855).

Wherever a number is asked for, the name of one of the job’s givens (\`{"given": "thickness"}\`) or a sum with units (\`{"expression": "15 3/4 in"}\`) may stand. Keys that the program does not know are kept and told of. Objects of several kinds list the keys of all their kinds, with each kind’s own words.

This page is made from the program’s JSON Schema, \`assets/lidjob.schema.json\`.

${parts.join('\n')}`;
}

/* Pictures: mm on the sheet, y up */

const WIDE_MM = 160;
const TEXT_MM = 2.8;

const text = (x: number, y: number, words: string, anchor: 'start' | 'middle' | 'end' = 'start'): Mark =>
  textAt([x, y], words, TEXT_MM, anchor);
const line = (from: Point, to: Point, role: LineRole = 'narrow'): Mark => lineMark(role, from, to);
const dot = (at: Point): Mark[] => [circleMark('visible', at, 1.6), circleMark('visible', at, 0.4)];
/** A line with an arrowhead at its end, or at both. */
function arrow(from: Point, to: Point, both = false, role: LineRole = 'narrow'): Mark[] {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const way: Point = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
  return [line(from, to, role), arrowhead(to, way), ...(both ? [arrowhead(from, [-way[0], -way[1]])] : [])];
}
/** From a centre, so far at an angle. */
const off = ([x, y]: Point, mm: number, deg: number): Point => {
  const turn = rad((deg * Math.PI) / 180);
  return [x + mm * cos(turn), y + mm * sin(turn)];
};
const arc = (centre: Point, radiusMm: number, from: number, to: number, role: LineRole = 'narrow'): Mark => ({
  ...{ kind: 'arc', role, centre, radiusMm },
  startRad: rad((from * Math.PI) / 180),
  sweepRad: rad(((to - from) * Math.PI) / 180),
});
/** A bar of a width from point to point. */
function bar(from: Point, to: Point, wide: number, role: LineRole = 'visible'): Mark {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const side: Point = [(-(to[1] - from[1]) / long) * (wide / 2), ((to[0] - from[0]) / long) * (wide / 2)];
  const at = (p: Point, k: number): Point => [p[0] + k * side[0], p[1] + k * side[1]];
  return polygonMark(role, [at(from, 1), at(to, 1), at(to, -1), at(from, -1)]);
}

const sketch = (title: string, heightMm: number, marks: readonly (Mark | readonly Mark[])[]): Sheet => ({
  ...{ title, widthMm: WIDE_MM, heightMm },
  parts: [{ name: 'sketch', marks: marks.flat() }],
});

/** A box with its lid, seen from the side: the hinge on the right. */
const HINGE: Point = [136, 46];
const chest = (openDeg: number, role: LineRole = 'visible'): Mark[] => [
  bar(off(HINGE, 0, 180 - openDeg), off(HINGE, 100, 180 - openDeg), 4, role),
];
const box: readonly Mark[] = [
  polylineMark('visible', [
    [40, 43],
    [40, 10],
    [132, 10],
    [132, 43],
  ]),
  ...dot(HINGE),
];

const photo = (): Sheet =>
  sketch('How to stand for the photo', 62, [
    line([4, 8], [156, 8], 'visible'),
    polygonMark('visible', [
      [92, 8],
      [148, 8],
      [148, 42],
      [92, 42],
    ]),
    bar([90, 44], [150, 44], 3),
    ...dot([148, 44]),
    bar([98, 24], [132, 24], 3),
    text(115, 17, 'a rule on the side', 'middle'),
    polygonMark('visible', [
      [10, 40],
      [22, 40],
      [22, 48],
      [10, 48],
    ]),
    circleMark('visible', [24, 44], 2.4),
    line([16, 40], [16, 8]),
    line([27, 44], [156, 44], 'centre'),
    text(28, 50, 'lens as high as the hinge, square to the side'),
    ...arrow([16, 3], [92, 3], true),
    text(54, 4.5, '3 m or more', 'middle'),
  ]);

const tape = (): Sheet => {
  const mount: Point = [112, 16];
  return sketch('What the tape reads', 74, [
    ...box,
    ...chest(0),
    ...dot(mount),
    ...dot([92, 42]),
    ...arrow([36, 56], [HINGE[0], 56], true),
    line([36, 48], [36, 58]),
    line([136, 49], [136, 58]),
    text(40, 58, '1  hinge to front edge'),
    ...arrow(mount, HINGE, true),
    text(134, 30, '2  to mount'),
    ...arrow([112, 16], [112, 44], true),
    text(110, 28, '3  mount up to the lid', 'end'),
    ...arrow([92, 63], [136, 63], true),
    line([92, 45], [92, 65]),
    line([136, 58], [136, 65]),
    text(90, 62, '4  hinge to lid point', 'end'),
    text(HINGE[0] + 4, HINGE[1] - 1, 'hinge'),
    text(8, 68, 'Three lengths hold a point where two would do: the third one shows a slip.'),
  ]);
};

const pull = (): Sheet => {
  const grip = off(HINGE, 96, 160);
  const end = off(grip, 24, 70);
  return sketch('Pulling at the grip with a scale', 122, [
    ...box,
    ...chest(20),
    arc(HINGE, 60, 160, 180),
    text(66, 49, 'angle', 'end'),
    ...arrow(grip, end, false, 'visible'),
    polygonMark('visible', [
      off(end, 3, 160),
      off(end, 3, -20),
      off(off(end, 12, 70), 3, -20),
      off(off(end, 12, 70), 3, 160),
    ]),
    text(end[0] + 9, end[1] + 3, 'scale, square to the line from hinge to grip'),
    text(end[0] + 9, end[1] - 3, 'read while it rises slowly, and while it sinks slowly'),
    line(grip, HINGE, 'centre'),
    text(8, 4, 'Struts off. Somebody else holds the lid, or a prop stands ready under it.'),
  ]);
};

const lever = (): Sheet => {
  const base: Point = [118, 14];
  const lid = off(HINGE, 48, 145);
  const long = Math.hypot(lid[0] - base[0], lid[1] - base[1]);
  const [ux, uy] = [(lid[0] - base[0]) / long, (lid[1] - base[1]) / long];
  const along = (HINGE[0] - base[0]) * ux + (HINGE[1] - base[1]) * uy;
  const foot: Point = [base[0] + along * ux, base[1] + along * uy];
  return sketch('The lever arm of a strut', 112, [
    ...box,
    ...chest(35),
    ...chest(0, 'phantom'),
    bar(base, [base[0] + 0.55 * (lid[0] - base[0]), base[1] + 0.55 * (lid[1] - base[1])], 4),
    line(base, lid, 'visible'),
    ...dot(base),
    ...dot(lid),
    line(lid, [lid[0] + 26 * ux, lid[1] + 26 * uy], 'centre'),
    ...arrow(HINGE, foot, true),
    text(HINGE[0] + 4, HINGE[1] - 1, 'hinge'),
    text(foot[0] - 8, foot[1] - 6, 'lever arm', 'end'),
    text(base[0] - 5, base[1], 'base end', 'end'),
    text(lid[0] + 5, lid[1] + 3, 'lid end'),
    text(8, 4, 'Moment of the strut about the hinge = its force × lever arm.'),
  ]);
};

const label = (): Sheet =>
  sketch('A gas spring and its numbers', 84, [
    bar([24, 46], [86, 46], 10),
    bar([86, 46], [132, 46], 4),
    ...dot([16, 46]),
    ...dot([140, 46]),
    line([18, 46], [24, 46], 'visible'),
    line([132, 46], [138, 46], 'visible'),
    polygonMark('narrow', [
      [34, 43.4],
      [76, 43.4],
      [76, 48.6],
      [34, 48.6],
    ]),
    text(55, 44.6, '275 · 900 N', 'middle'),
    text(42, 56, 'tube', 'middle'),
    text(110, 52, 'rod', 'middle'),
    line([16, 42], [16, 24]),
    line([140, 42], [140, 24]),
    ...arrow([16, 28], [140, 28], true),
    text(78, 30, 'extended length, between the centres of the balls', 'middle'),
    line([90, 43], [90, 34]),
    line([132, 43], [132, 34]),
    ...arrow([90, 36], [132, 36], true),
    text(111, 37.5, 'stroke', 'middle'),
    text(16, 14, 'Pushed in, it is: extended length − stroke. Force: out, 5 mm from its end, at 20 °C.'),
    text(16, 62, 'On the tube: force in N, or a part number; a warning that it is under pressure.'),
  ]);

const joint = (): Sheet => {
  const ball: Point = [60, 40];
  return sketch('The working range of a ball joint', 84, [
    bar([30, 10], [90, 10], 6),
    line([60, 13], [60, 36], 'visible'),
    circleMark('visible', ball, 4.5),
    line([60, 4], [60, 78], 'centre'),
    text(62, 72, 'axis of the ball stud'),
    bar(ball, off(ball, 40, 12), 5),
    bar(off(ball, 40, 12), off(ball, 78, 12), 2),
    line(ball, off(ball, 92, 0), 'centre'),
    line(ball, off(ball, 92, 18), 'phantom'),
    line(ball, off(ball, 92, -18), 'phantom'),
    arc(ball, 86, -18, 18),
    text(104, 43.5, 'strut'),
    text(108, 35.5, 'square to the stud', 'middle'),
    text(96, 5, 'working range: so far either way'),
  ]);
};

/** One view of a sheet with the labels that stand by it, cut out with some paper round them. */
function cut(sheet: Sheet, view: string, title: string): Sheet {
  const own = sheet.parts.find((part) => part.name === view)!.marks;
  const labels = sheet.parts.find((part) => part.name === 'labels')!.marks;
  const marks = [...own, ...labels.filter((mark) => boxesMeet(boundsOf([mark]), boundsOf(own), 2))];
  const { left, bottom, right, top } = grow(boundsOf(marks), 4);
  const widthMm = Math.max(WIDE_MM, right - left);
  const part = movePart({ name: view, marks }, (widthMm - right - left) / 2, -bottom);
  return { title, widthMm, heightMm: top - bottom, parts: [part] };
}

function pictures(): Map<string, Sheet> {
  const job = readJob(readFileSync(path.join(root, 'assets/examples/workboat-hatch.lidjob'), 'utf8'));
  const outcome = workingsOf(job);
  const papers = papersOf(outcome.job, outcome, { date: '2026-11-25', program: 'Lidwright' });
  const sheet = (id: string, page = 0): Sheet => papers.find((paper) => paper.id === id)!.draw()[page]!;
  const charts = reportCharts(outcome);
  const chart = (name: string): Sheet => {
    const spec = charts.find((each) => each.name === name)!;
    const height = chartHeightMm(spec.series.length, 60);
    const part = movePart(chartPart(spec, WIDE_MM - 10, 60), 5, height + 2);
    return { title: spec.yTitle, widthMm: WIDE_MM, heightMm: height + 8, parts: [part] };
  };
  return new Map([
    ['job', cut(sheet('layout'), 'side-view', 'The workboat’s hatch: lid and strut closed and open')],
    ['photo', photo()],
    ['tape', tape()],
    ['pull', pull()],
    ['lever', lever()],
    ['label', label()],
    ['joint', joint()],
    ['hand-chart', chart('hand-opening')],
    ['joint-chart', chart('joint-1')],
    ['bracket', sheet('bracket-b1')],
    ['template', sheet('template-b1')],
    ['place', sheet('place-s1')],
    ['checklist', sheet('checklist')],
  ]);
}

/** Every file of the guide that is made, by its path in the repository. */
export function madeFiles(): Map<string, string> {
  const fonts = path.dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
  const font = new Uint8Array(readFileSync(path.join(fonts, drawingFont.file)));
  const drawn = [...pictures()].map(([name, sheet]): [string, string] => [
    `assets/guide/${name}.svg`,
    writeSvg(sheet, { fontBytes: subsetFont(font, lettersOn(sheet)) }),
  ]);
  return new Map([['docs/findings.md', findingsPage()], ['docs/file-format.md', formatPage()], ...drawn]);
}
