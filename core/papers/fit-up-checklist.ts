import type { Sheet } from '../drawing';
import { fitUpPlan, type PlanItem, proofCondition } from '../prove';
import type { Workings } from '../workings';
import type { SheetOptions } from './bracket-sheet';
import { CAUTIONS } from './cautions';
import { Flow } from './flow';
import { figure } from './report-tables';
import { slimHeadOf } from './numbers';

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

const value = (item: PlanItem): string =>
  item.predicted === null
    ? 'cannot be told'
    : `${figure(item.predicted, item.unit === 'N' ? 0 : 1)}${item.unit === '°' ? '' : ' '}${item.unit}${
        item.plusMinus === null ? '' : ` ± ${figure(item.plusMinus, item.unit === 'N' ? 0 : 1)}`
      }`;

/**
 * The sheet to fit up by and to prove with, A4: steps in order with boxes to tick, the fit-up plan's predicted values and their
 * ± with room for what was measured, and cautions. Throws a LidwrightError only where the job cannot be computed.
 */
export function fitUpChecklist(outcome: Workings, options: SheetOptions): Sheet[] {
  const { job } = outcome;
  const flow = new Flow(slimHeadOf(job, 'F', 'Fit-up checklist', options.date));
  flow.heading('Before you begin');
  flow.text(CAUTIONS, { numbered: true });
  flow.heading('Steps, in this order', 40);
  flow.table(
    { 'No.': 8, Step: 128, Done: 16 },
    STEPS.map((step, i) => [String(i + 1), step, '']),
  );
  const condition = proofCondition(job);
  const loadCase = job.loadCases.find((c) => c.id === condition.loadCase) ?? job.loadCases[0]!;
  const off = loadCase.off.map((id) => job.masses.find((m) => m.id === id)?.name ?? id);
  flow.heading('Predicted and measured', 60);
  flow.text([
    `Measure as in the load case “${loadCase.name}”${off.length > 0 ? ` (off: ${off.join(', ')})` : ''}, at about ${figure(condition.tempC, 0)} °C: the temperature changes the force. Forces are those at the grip, square to its circle about the hinge; over 0 lifts, under 0 pulls down. A reading within the ± agrees.`,
  ]);
  flow.table(
    { What: 66, Predicted: 34, Measured: 28, Agrees: 18 },
    fitUpPlan(job).map((item) => [item.optional ? `${item.what} (if you can)` : item.what, value(item), '', '']),
  );
  flow.heading('Safe to go on?', 30);
  flow.text([
    'Stop, prop the lid and look for the cause where a reading lies outside its ±, where a joint touches, or where the lid moves by itself at an angle at which it should stay. Type the measured values into Prove: it names the likely causes.',
  ]);
  flow.table({ 'Fitted by': 50, Date: 30, Remarks: 72 }, [['', '', '']]);
  return flow.sheets();
}
