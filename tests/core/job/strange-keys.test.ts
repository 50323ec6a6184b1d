// Misspelt, doubled and unknown keys of a job file, and a word for what reading changes or fills in.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, jobSchema, readJob, readJobFile, writeJob } from '../../../core/job';
import { likeKey, placeWords } from '../../../core/job/strange-keys';
import { checkJob } from '../../../core/result';
import { workingsOf } from '../../../core/workings';
import { exampleFiles, fileText, goldenFiles, secondGoldenFiles } from '../../support/files';
import { runs } from '../../support/tier';

// oxlint-disable-next-line typescript/no-explicit-any
type Tree = Record<string, any>;
const EXAMPLE = fileText('tests/fixtures/jobs/workboat-hatch.lidjob');
const spoilt = (change: (job: Tree) => void): Job => {
  const job = JSON.parse(EXAMPLE) as Tree;
  change(job);
  return readJob(JSON.stringify(job));
};
const keyFindings = (job: Job) => workingsOf(job).findings.filter((f) => f.id === 'unknown-key');
const notesOf = (text: string) => readJobFile('a.lidjob', new TextEncoder().encode(text)).notes;

/** Optimal string alignment by its definition, letter by letter (Boytsov 2011, "Indexing methods for approximate dictionary searching", eq. 2.3). */
function apart(a: string, b: string): number {
  const memo = new Map<string, number>();
  const d = (i: number, j: number): number => {
    if (Math.min(i, j) === 0) return Math.max(i, j);
    const key = `${i},${j}`;
    if (!memo.has(key)) {
      const swap = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1] ? d(i - 2, j - 2) + 1 : Infinity;
      memo.set(key, Math.min(d(i - 1, j) + 1, d(i, j - 1) + 1, d(i - 1, j - 1) + Number(a[i - 1] !== b[j - 1]), swap));
    }
    return memo.get(key)!;
  };
  return d(a.length, b.length);
}

describe('a key like a known one', () => {
  it.each([
    ['strokMm', ['extendedMm', 'strokeMm'], 'strokeMm'],
    ['storkeMm', ['extendedMm', 'strokeMm'], 'strokeMm'],
    ['StrokeMM', ['extendedMm', 'strokeMm'], 'strokeMm'],
    ['stroke_mm', ['extendedMm', 'strokeMm'], 'strokeMm'],
    ['kgs', ['kg', 'at'], 'kg'],
    ['loadcases', ['loadCases', 'limits'], 'loadCases'],
    ['later', ['latch', 'limits'], null],
    ['c', ['a', 'b'], null],
    ['no', ['on', 'at'], null],
    ['comment', ['points', 'masses'], null],
    ['x'.repeat(1e6), ['points'], null],
  ])('%.20s of %j is %s', (key, known, meant) => expect(likeKey(key, known)).toBe(meant));
  it('is measured by the letters between them', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c', 'd'), minLength: 3, maxLength: 8 });
    fc.assert(
      fc.property(word, word, (a, b) => {
        const length = Math.max(a.length, b.length);
        expect(likeKey(a, [b]) !== null).toBe(apart(a, b) <= (length < 6 ? 1 : 2));
      }),
      { numRuns: runs(3000, 50) },
    );
  });
});

describe('the finding unknown-key', () => {
  it('is none in any of our jobs', () => {
    for (const file of [...exampleFiles(), ...goldenFiles(), ...secondGoldenFiles()])
      expect(keyFindings(readJob(fileText(file))), file).toEqual([]);
  });
  it.each<[string, (job: Tree) => void, string, string]>([
    ['of the job', (j) => (j['limit'] = { handOpenN: 1 }), '“limit” in the job', 'limits'],
    ['of a strut’s numbers', (j) => (j['struts'][0].spec.frictonN = 40), `“frictonN” in “spec” of the strut “${JSON.parse(EXAMPLE).struts[0].name ?? JSON.parse(EXAMPLE).struts[0].id}”`, 'frictionN'],
    ['of an end', (j) => (j['struts'][0].ends.lid.rangDeg = 4), '“rangDeg” in “lid” of “ends” of the strut', 'rangeDeg'],
    ['of a mass', (j) => Object.assign(j['masses'][0], { name: 'Panel', massKg: 3, kgs: 4 }), '“kgs” in the mass “Panel”', 'kg'],
    ['of a load case', (j) => (j['loadCases'][0].pitchdeg = 9), '“pitchdeg” in the load case', 'pitchDeg'],
    ['of an expression', (j) => (j['masses'][0].kg = { expression: '3 + 4', units: 'lb' }), '“units” in “kg” of the mass', 'unit'],
    ['of a source, one of two kinds', (j) => (j['photos'][0].source.besides = 'x.jpg'), '“besides” in “source” of the photo', 'beside'],
  ])('watches a misspelt key %s', (_, change, where, meant) => {
    const found = keyFindings(spoilt(change)).filter((f) => f.state === 'watch');
    expect(found).toHaveLength(1);
    expect(found[0]!.text).toContain(where);
    expect(found[0]!.text).toContain(`probably “${meant}” is meant`);
    expect(found[0]!.text).not.toMatch(/\w\[\d|\w\.\w/);
    expect(found[0]!.advice).not.toBe('');
  }); // prettier-ignore
  it('tells others as kept, and they are written back', () => {
    const job = spoilt((j) => {
      j['later'] = { deep: [1, 2] };
      j['points'][2].tag = 'blue';
    });
    const found = keyFindings(job);
    expect(found.map((f) => f.state)).toEqual(['holds']);
    expect(found[0]!.text).toMatch(/^2 keys are kept and written back .*“later” in the job/);
    expect(JSON.parse(writeJob(job))).toMatchObject({ later: { deep: [1, 2] } });
  });
  it('floods nobody', () => {
    const job = spoilt((j) => j['points'].forEach((p: Tree) => Object.assign(p, { nam: 1, naem: 2, att: 3, onn: 4 })));
    const found = keyFindings(job);
    expect(found.length).toBe(21);
    expect(found.at(-1)!.text).toMatch(/more keys/);
  });
  it('any key of the format with one letter more is told, wherever it stands', () => {
    const shape = Object.keys((jobSchema as unknown as { shape: object }).shape).filter((key) => key.length > 3);
    for (const key of shape) {
      const found = keyFindings(spoilt((j) => (j[`${key}s`] = 1)));
      expect(
        found.some((f) => f.state === 'watch' && f.text.includes(`“${key}s” in the job`)),
        key,
      ).toBe(true);
    }
  });
  it('stands in the result file and follows an edit', () => {
    expect(checkJob(spoilt((j) => (j['travel'].opnDeg = 3))).findings.some((f) => f.id === 'unknown-key')).toBe(true);
    const before = workingsOf(spoilt((j) => (j['travel'].opnDeg = 3)));
    expect(before.findings.some((f) => f.id === 'unknown-key')).toBe(true);
    const { opnDeg: _, ...travel } = before.raw!.travel as Tree;
    const after = workingsOf({ ...before.raw!, travel } as Job, undefined, before);
    expect(after.findings.some((f) => f.id === 'unknown-key')).toBe(false);
  });
});

describe('what reading changes is said', () => {
  const doubled = (from: string, to: string) => notesOf(EXAMPLE.replace(from, to)).filter((n) => n.kind === 'lost');
  const raw = JSON.parse(EXAMPLE) as Tree;
  it('a key that stands twice: where, which value is dropped, which counts', () => {
    const text = JSON.stringify(raw);
    const mass = raw['masses'][0] as Tree;
    const twice = text.replace(`"kg":${mass['kg']}`, `"kg": 1.5 , "k\\u0067":${mass['kg']}`);
    expect(notesOf(twice).filter((n) => n.kind === 'lost').map((n) => n.text)).toEqual([
      `“kg” stands twice in the mass “${mass['name']}”: 1.5 is dropped, ${mass['kg']} counts`,
    ]); // prettier-ignore
    expect(notesOf(text.replace('"hinge":{', '"hinge":{"a":"x","hinge":{"a":1},')).filter((n) => n.kind === 'lost').map((n) => n.text)).toEqual([
      expect.stringMatching(/^“a” stands twice in “hinge”: "x" is dropped, "\w+" counts$/),
    ]); // prettier-ignore
    expect(doubled('"format"', '"title": {"a": [1]}, "format"')[0]!.text).toMatch(/^“title” stands twice in the job: an object is dropped, "/);
  }); // prettier-ignore
  it('keys alike in texts, in other objects and in lists are none', () => {
    const job = { ...raw, title: '{"kg": 1, "kg": 2}, \\" "a":1,"a":2', later: [{ a: 1 }, { a: 2 }, ['a', 'a'], { a: { a: 3 } }] };
    expect(notesOf(JSON.stringify(job)).filter((n) => n.kind === 'lost')).toEqual([]);
    for (const file of exampleFiles()) expect(notesOf(fileText(file)).filter((n) => n.kind === 'lost'), file).toEqual([]);
  }); // prettier-ignore
  it('a random doubled key anywhere is told once, and none is where none is', () => {
    const tree = fc.letrec<{ node: unknown }>((tie) => ({
      node: fc.oneof({ maxDepth: 4 }, fc.string({ unit: 'binary' }), fc.double({ noNaN: true, noDefaultInfinity: true }).filter((n) => n === 0 || Math.abs(n) > 1e-300), fc.constantFrom(null, true), fc.array(tie('node'), { maxLength: 3 }), fc.dictionary(fc.string({ unit: 'binary', maxLength: 4 }), tie('node'), { maxKeys: 3 })),
    })); // prettier-ignore
    fc.assert(
      fc.property(tree.node, fc.string({ unit: 'binary', maxLength: 6 }), fc.nat(2), (node, key, space) => {
        const text = JSON.stringify({ ...raw, later: node }, null, space);
        expect(notesOf(text).filter((n) => n.kind === 'lost')).toEqual([]);
        const name = JSON.stringify(key);
        const twice = JSON.stringify({ ...raw, later: { own: node } }, null, space).replace(/"own":/, () => `${name}:1,${name}:`); // prettier-ignore
        expect(notesOf(twice).filter((n) => n.kind === 'lost')).toHaveLength(1);
      }),
      { numRuns: runs(1000, 20) },
    );
  });
  it('digits that no number keeps, an older version, limits and friction that the file leaves out', () => {
    const words = (change: (job: Tree) => string | void): string[] => {
      const job = JSON.parse(EXAMPLE) as Tree;
      job['limits'].clearanceMm = 3;
      const text = change(job) ?? JSON.stringify(job);
      return notesOf(text).map((n) => n.text);
    };
    expect(words((j) => JSON.stringify({ ...j, later: '@' }).replace('"@"', '0.12345678901234567890'))).toEqual(['one number has more digits than can be kept, and is rounded']); // prettier-ignore
    expect(words((j) => JSON.stringify({ ...j, later: '@' }).replace('"@"', '[1e-400, 0.10000000000000001, 0.0, 1e3]'))).toHaveLength(1); // prettier-ignore
    expect(words((j) => void (delete j['limits'], delete j['hinge'].frictionNm))).toEqual([
      'taken as usual, for the file leaves it out: hand force to open 150 N, hand force to shut 200 N, stroke reserve 5 mm, moment to stay open 5 N·m, clearance 3 mm, friction of the hinge 0 N·m',
    ]); // prettier-ignore
    expect(words((j) => void (j['version'] = 0))[0]).toBe('it is of version 0 and was brought up to 1');
  });
  it('a place by its names', () => {
    const job = { weighings: { readings: [{}, {}] }, points: [{ id: 'p', name: ' ' }, {}] };
    expect(placeWords(job, [])).toBe('the job');
    expect(placeWords(job, ['weighings', 'readings', 1])).toBe('no. 2 of “readings” of “weighings”');
    expect(placeWords(job, ['points', 0, 'at'])).toBe('“at” of the point “p”');
    expect(placeWords(job, ['points', 1])).toBe('the point 2');
  });
});
