// Threads that meet at a strut's end: what the finding says of each pair, against DIN 71802's sizes and the usual rods.
import { describe, expect, it } from 'vitest';
import { aboutOf, CHECKS } from '../../../core/findings';
import { type Bracket, resolveJob, type ResolvedJob } from '../../../core/job';
import { jobAt } from '../../support/files';

const example = resolveJob(jobAt('assets/examples/workboat-hatch.lidjob'));
const check = CHECKS.find((c) => c.name === 'threads')!;

function found(fitting: string, stud: Bracket['stud'], change: Partial<Bracket> = {}, rodMm = 10) {
  const [strut, bracket] = [example.struts[0]!, example.brackets[0]!];
  const job: ResolvedJob = {
    ...example,
    struts: [
      {
        ...strut,
        spec: { ...strut.spec, rodMm, tubeMm: rodMm === 14 ? 28 : 22 },
        ends: { ...strut.ends, base: { ...strut.ends.base, fitting } },
      },
    ],
    brackets: [{ ...bracket, ...(stud ? { stud } : {}), ...change }],
  };
  return check.run({ job } as never).find((f) => f.id === 'base-thread');
}

describe('threads at a strut’s end', () => {
  it('hold in the example, and say what is only taken as usual', () => {
    expect(check.run({ job: example } as never).map((f) => [f.id, f.state])).toEqual([['base-thread', 'holds']]);
    expect(found('ball-stud', { thread: 'M8' })!.text).toMatch(/M8 goes together, if the strut has the thread usual/);
    expect(found('angled-ball-13-m8', { thread: 'M8' })!.text).toMatch(/M8 goes together\.$/);
  });

  it('fail where the job itself names two that differ, and are told where one is only usual', () => {
    expect(found('angled-ball-13-m8', { thread: 'M10' })).toMatchObject({ state: 'fails' });
    expect(found('ball-stud', { thread: 'M10' })).toMatchObject({ state: 'watch' });
    // fitting and stud agree, the rod usually does not
    const fine = found('angled-ball-16-m10', { thread: 'M10' })!;
    expect(fine).toMatchObject({ state: 'watch' });
    expect(fine.text).toMatch(/M10 is not the M8 usual on a rod of 10 mm/);
    // a fine thread of one size is not the coarse one
    expect(found('angled-ball-19-m14×1.5', { thread: 'M14' }, {}, 14)).toMatchObject({ state: 'fails' });
  });

  it('hold a fork’s pin against the holes of a channel', () => {
    const channel = (diameterMm: number): Partial<Bracket> => ({
      kind: 'channel',
      gapMm: 20,
      studHole: { diameterMm, heightMm: 40 },
    });
    expect(found('fork-8-16', undefined, channel(6.4))).toMatchObject({ state: 'fails' });
    expect(found('fork-8-16', undefined, channel(8.4))).toMatchObject({ state: 'holds' });
  });

  it('say nothing where nothing can be held against anything, and have a text of their own', () => {
    const bare = { ...example, brackets: [] };
    expect(check.run({ job: bare } as never)).toEqual([]);
    for (const id of ['base-thread', 'lid-thread']) expect(aboutOf(id).what).not.toBe('');
  });
});
