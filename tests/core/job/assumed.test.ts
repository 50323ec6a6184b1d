import { describe, expect, it } from 'vitest';
import { assumedName, assumedPath, isAssumed, setValue, stated, withoutTouched } from '../../../core/job';
import { lidOfSizes } from '../../../core/start';

const job = lidOfSizes({ widthMm: 800, depthMm: 600, layers: [{ name: 'ply', thicknessMm: 20, densityKgM3: 500 }] });
const KG = ['masses', 0, 'kg'] as const;

describe('values that nobody has stated', () => {
  it('are named by section, id and key, and found again', () => {
    expect(assumedName(job, KG)).toBe('masses.lid.kg');
    expect(assumedPath(job, 'masses.lid.kg')).toEqual(KG);
    expect(assumedPath(job, 'travel.openDeg')).toEqual(['travel', 'openDeg']);
    for (const none of ['masses.other.kg', 'masses', 'nothing.at.all', '', 'masses.lid.kg.more'])
      expect(assumedPath(job, none) === null || none === 'masses', none).toBe(true);
    const dotted = setValue(job, { path: ['masses', 0, 'id'], value: 'lid.top' });
    expect(assumedPath(dotted, 'masses.lid.top.kg')).toEqual(KG);
  });

  it('an edit states what it changes and nothing else', () => {
    const heavier = withoutTouched(job, setValue(job, { path: KG, value: 30 }));
    expect(isAssumed(job, KG)).toBe(true);
    expect(isAssumed(heavier, KG)).toBe(false);
    expect(heavier.assumed).toHaveLength(job.assumed!.length - 1);
    const retitled = setValue(job, { path: ['title'], value: 'x' });
    expect(withoutTouched(job, retitled)).toBe(retitled);
    const gone = setValue(job, { path: ['loadCases'], value: job.loadCases.slice(0, 1) });
    expect(withoutTouched(job, gone).assumed!.some((name) => name.startsWith('loadCases'))).toBe(false);
  });

  it('one can be stated as it is; what this program does not know is left alone', () => {
    expect(isAssumed(stated(job, KG), KG)).toBe(false);
    expect(stated(job, ['title'])).toBe(job);
    const newer = { ...job, assumed: [...job.assumed!, 'future.thing'] };
    expect(withoutTouched(newer, setValue(newer, { path: KG, value: 30 })).assumed).toContain('future.thing');
  });
});
