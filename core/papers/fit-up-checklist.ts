import type { Sheet } from '../drawing';
import type { Outcome } from '../findings';
import { type Plan, restAngles, sweep } from '../travel';
import type { SheetWishes } from './bracket-sheet';
import { CAUTIONS } from './cautions';
import { Flow } from './flow';
import { columns, figure, strutTitle } from './report-tables';

const STEPS: readonly string[] = [
  'Open the lid by hand and set a prop that carries it alone, with everything on it that counts as load. Try the prop: it must not slip.',
  'Check the drilled holes against the template and the bracket against its drawing. Tighten the brackets to the tightening the fixing needs.',
  'Fit the base end of the strut first, then the lid end, with the prop in. Put the securing clips in. Rod as the purchase sheet says.',
  'With the prop still in, look at both joints: the stud must not touch the edge of its socket.',
  'Take the weight of the lid in both hands, let a second person take the prop out, and let the lid down slowly to about half. Stop if it pulls or drops.',
  'Bring it up again and put the prop back. Measure the open length of the strut between the centres of its joints.',
  'Close the lid slowly. Look through the gap: nothing may touch the strut. Measure the closed length.',
  'Pull at the grip square to the lid with a spring scale, slowly and steadily, at each angle of the table, going up and going down.',
  'Let go gently at a few angles, prop at hand, and note where the lid stays.',
  'Open and close ten times, then look at both joints, clips and fixings again.',
];

/** Angles to read the hand force at: the two ends stand off a little, where a scale can still be pulled. */
function readingAngles(openDeg: number): number[] {
  return [0.1, 0.3, 0.5, 0.7, 0.9].map((k) => Math.max(1, Math.round(openDeg * k)));
}

const direction = (force: number): string => (force >= 0 ? 'lift' : 'pull down');
const force = (n: number): string =>
  Number.isFinite(n) ? `${figure(Math.abs(n), 0)} N, ${direction(n)}` : 'not known';

function predicted(plan: Plan): (readonly string[])[] {
  const angles = readingAngles(plan.openDeg);
  const table = sweep(plan, Float64Array.from(angles));
  return angles.flatMap((angle, i) => [
    [`Hand force opening, at ${angle}°`, force(table.handOpeningN[i]!)],
    [`Hand force closing, at ${angle}°`, force(table.handClosingN[i]!)],
  ]);
}

/**
 * The sheet to fit up by and to prove with, A4: steps in order with boxes to tick, predicted values of one load case (the
 * first unless `caseId` names another) with room for what was measured, and cautions. Throws a LidwrightError only where the
 * job cannot be computed.
 */
export function fitUpChecklist(outcome: Outcome, wishes: SheetWishes & { readonly caseId?: string }): Sheet[] {
  const { job } = outcome;
  const papers = job.papers ?? {};
  const at = Math.max(
    0,
    job.loadCases.findIndex((c) => c.id === wishes.caseId),
  );
  const plan = outcome.plans[at]!;
  const loadCase = job.loadCases[at]!;
  const flow = new Flow({
    title: job.title === '' ? 'Lid and strut' : job.title,
    documentType: 'Fit-up checklist',
    number: papers.number ? `${papers.number}-F` : '',
    date: wishes.date,
    creator: papers.creator ?? '',
  });
  flow.heading('Before you begin');
  flow.text(CAUTIONS, { numbered: true });
  flow.heading('Steps, in this order', 40);
  flow.table(
    columns(flow.widthMm, ['No.', 8], ['Step', 128], ['Done', 16]),
    STEPS.map((step, i) => [String(i + 1), step, '']),
  );
  const off = loadCase.off.map((id) => job.masses.find((m) => m.id === id)?.name ?? id);
  flow.heading(`Predicted and measured: ${loadCase.name}`, 60);
  flow.text([
    `Measure with the same things on the lid${off.length > 0 ? ` (off: ${off.join(', ')})` : ''}, base ${loadCase.pitchDeg === 0 && loadCase.rollDeg === 0 ? 'level' : `pitched ${figure(loadCase.pitchDeg, 1)}° and rolled ${figure(loadCase.rollDeg, 1)}°`}, at about ${figure(loadCase.tempC, 0)} °C: it changes the force. Forces are those at the grip, square to its circle about the hinge.`,
  ]);
  const end = sweep(plan, Float64Array.from([0, plan.openDeg]));
  const lengths = end.struts.flatMap((s, i) => {
    const strut = job.struts.find((one) => one.id === s.id)!;
    const title = strutTitle(strut, i, end.struts.length);
    return [
      [`${title}: closed length`, `${figure(s.lengthMm[0], 1)} mm`],
      [`${title}: open length, at ${figure(plan.openDeg, 1)}°`, `${figure(s.lengthMm[1], 1)} mm`],
    ];
  });
  const rests = restAngles(plan);
  const rows = [
    ...lengths,
    ['Opens to', `${figure(plan.openDeg, 1)}°`],
    ...predicted(plan),
    [
      'Rests by itself at',
      rests.length === 0 ? 'no angle between shut and open' : rests.map((r) => `${figure(r, 1)}°`).join(', '),
    ],
  ];
  flow.table(
    columns(flow.widthMm, ['What', 56], ['Predicted', 42], ['Measured', 30], ['Difference', 24]),
    rows.map((row) => [...row, '', '']),
  );
  flow.heading('Safe to go on?', 30);
  flow.text([
    'Stop, prop the lid and look for the cause where a force is off by more than a quarter, a length by more than 3 mm, where a joint touches, or where the lid moves by itself at an angle at which it should stay. Type the measured values into Prove: it names the likely causes.',
  ]);
  flow.table(columns(flow.widthMm, ['Fitted by', 50], ['Date', 30], ['Remarks', 72]), [[' ', ' ', ' ']]);
  return flow.sheets();
}
