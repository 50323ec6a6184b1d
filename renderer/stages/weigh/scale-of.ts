import { type Num, resolveGivens } from '../../../core/job';
import { type ScaleUnit, evaluateQuantity, readScale, shownOnScale } from '../../../core/quantity';
import { scaleEntry as entryOfScale } from '../../../core/weigh';
import { bench } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { quantityWords } from '../../ui/entry';

/** What the person's scale shows: as said in the job, or lb where forces are shown in pounds. */
export function useScale(): ScaleUnit {
  const said = useBench((s) => s.history.present.weighings?.scale);
  const pounds = useBench((s) => s.units.force === 'lbf');
  return said ?? (pounds ? 'lb' : 'kg');
}

/** What was typed for a scale's reading, as it goes into the job. Throws a LidwrightError. */
export const scaleEntry = (text: string, scale: ScaleUnit): Num =>
  entryOfScale(bench.getState().history.present, text, scale);

/** What was typed for an angle, in degrees. Throws a LidwrightError. */
export const angleEntry = (text: string): number =>
  evaluateQuantity(text, 'angle', resolveGivens(bench.getState().history.present));

/** What a text is read as on such a scale, with its unit. Throws a LidwrightError. */
export const scaleWords =
  (scale: ScaleUnit) =>
  (text: string): string =>
    `${shownOnScale(readScale(text, scale, resolveGivens(bench.getState().history.present)), scale)} ${scale}`;

export const angleWords = (text: string): string => quantityWords(text, 'angle');
