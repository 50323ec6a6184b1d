// Reading and writing job files: nothing lost, nothing invented, faults named with their place.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { describeIssue } from '../../../core/error';
import { type Job, VERSION, jobJsonSchema, readJob, resolveJob, writeJob } from '../../../core/job';
import { exampleFiles, fileText, goldenFiles, jobAt } from '../../support/files';
import { refusal, said } from '../../support/refusal';
import { runs } from '../../support/tier';

const files = [...exampleFiles(), ...goldenFiles()];
const doc = (file = files[0]!): Record<string, unknown> => JSON.parse(fileText(file)) as Record<string, unknown>;
const edited = (edit: (d: Record<string, never>) => void, file?: string): string => {
  const d = doc(file);
  edit(d as Record<string, never>);
  return JSON.stringify(d);
};

/** Every object of a document, to plant keys in. */
function objectsOf(value: unknown, out: Record<string, unknown>[] = []): Record<string, unknown>[] {
  if (typeof value === 'object' && value !== null) {
    if (!Array.isArray(value)) out.push(value as Record<string, unknown>);
    for (const inner of Object.values(value)) objectsOf(inner, out);
  }
  return out;
}

describe('read and write', () => {
  it('there are examples of three kinds and four golden jobs', () => {
    expect(exampleFiles()).toHaveLength(3);
    expect(goldenFiles()).toHaveLength(4);
  });
  it.each(files)('%s: reading what was written gives the same job, and the same bytes again', (file) => {
    const job = jobAt(file);
    const text = writeJob(job);
    expect(readJob(text)).toStrictEqual(job);
    expect(writeJob(readJob(text))).toBe(text);
    expect(text.endsWith('}\n')).toBe(true);
  });
  it.each(files)('%s: unknown keys at every level stay, values and order too', (file) => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(), fc.string({ minLength: 1, maxLength: 12 }), fc.jsonValue({ maxDepth: 3 })), {
          maxLength: 12,
        }),
        (plants) => {
          const d = doc(file);
          const objects = objectsOf(d);
          for (const [where, key, value] of plants) {
            const target = objects[where % objects.length]!;
            const name = `x-${key}`;
            Object.defineProperty(target, name, { value, enumerable: true, configurable: true, writable: true });
          }
          const text = `${JSON.stringify(d, null, 1)}\n`;
          expect(writeJob(readJob(text))).toBe(text);
        },
      ),
      { numRuns: runs(400) },
    );
  });
  it('one unknown key in every object at once', () => {
    const d = doc('assets/examples/trailer-locker.lidjob');
    objectsOf(d).forEach((o, i) => (o['kept'] = [i, { deep: null }]));
    const text = `${JSON.stringify(d, null, 1)}\n`;
    expect(writeJob(readJob(text))).toBe(text);
    const resolved = resolveJob(readJob(text)) as unknown as Record<string, unknown>;
    expect(resolved['kept']).toEqual([0, { deep: null }]);
  });
  it('keys named like parts of the language are plain keys', () => {
    const text = `${fileText(files[0]!).trim().slice(0, -1)},"__proto__":{"a":1},"constructor":{"b":2},"toString":3}`;
    const back = JSON.parse(writeJob(readJob(text))) as object;
    expect(Object.hasOwn(back, '__proto__')).toBe(true);
    expect(({} as Record<string, unknown>)['a']).toBeUndefined();
    expect(writeJob(readJob(writeJob(readJob(text))))).toBe(writeJob(readJob(text)));
  });
  it('a byte order mark and windows line ends do no harm', () => {
    const text = fileText(files[0]!);
    expect(readJob(`\uFEFF${text.replaceAll('\n', '\r\n')}`)).toStrictEqual(readJob(text));
  });
  it('the JSON Schema beside the examples is the one that the program uses', () => {
    expect(fileText('assets/lidjob.schema.json')).toBe(`${JSON.stringify(jobJsonSchema(), null, 1)}\n`);
  });
  it('the JSON Schema names every section of the format', () => {
    const schema = jobJsonSchema() as {
      properties: Record<string, unknown>;
      required: string[];
      additionalProperties: unknown;
    };
    for (const key of [
      'format',
      'version',
      'title',
      'givens',
      'points',
      'hinge',
      'travel',
      'grip',
      'outline',
      'masses',
      'struts',
      'loadCases',
      'limits',
    ])
      expect(schema.properties).toHaveProperty(key);
    expect(schema.required).toEqual(expect.arrayContaining(['format', 'version', 'points', 'hinge', 'masses']));
    expect(schema.additionalProperties).not.toBe(false);
  });
});

describe('versions', () => {
  const v0 = (): Record<string, unknown> => {
    const { hinge, travel, ...rest } = doc() as {
      hinge: { a: string; b: string };
      travel: { openDeg: number };
    } & Record<string, unknown>;
    return { ...rest, version: 0, hinge: [hinge.a, hinge.b], angleDeg: travel.openDeg, myNote: { kept: true } };
  };
  it('version 0 travels the road to the present one, unknown keys with it', () => {
    const job = readJob(JSON.stringify(v0()));
    const now = doc() as unknown as Job;
    expect(job.version).toBe(VERSION);
    expect(job.hinge).toEqual({ a: now.hinge.a, b: now.hinge.b, opens: 'up' });
    expect(job.travel).toEqual({ openDeg: now.travel.openDeg, stop: 'lid' });
    expect(job.points).toEqual(now.points);
    expect(job).toHaveProperty('myNote', { kept: true });
    expect(job).not.toHaveProperty('angleDeg');
    expect(readJob(writeJob(job))).toStrictEqual(job);
  });
  it('reading changes nothing about a file of the present version', () => {
    expect(readJob(JSON.stringify(doc()))).toStrictEqual(doc());
  });
  it('a newer version is refused, and says the file is as it was', () => {
    const error = refusal(() => readJob(edited((d) => void Object.assign(d, { version: VERSION + 1 }))));
    expect(error.what).toMatch(/newer/);
    expect(error.where).toEqual(['version']);
    expect(error.advice).toMatch(/not changed/);
  });
  it.each([-1, 0.5, '1', null, [], {}, true])('version %j is refused', (version) => {
    expect(refusal(() => readJob(edited((d) => void Object.assign(d, { version })))).where).toEqual(['version']);
  });
  it('a file of another format, or of none, is refused by name', () => {
    expect(refusal(() => readJob('{"format":"something-else","version":1}')).where).toEqual(['format']);
    expect(refusal(() => readJob('{}')).where).toEqual(['format']);
    for (const text of ['[]', '3', 'null', '"text"', 'true']) refusal(() => readJob(text));
  });
});

describe('faults are named with their place', () => {
  it.each<[string, (d: Record<string, never>) => void, string | RegExp]>([
    [
      'a text for a length',
      (d) => ((d as never as Job).points[0]!.at as unknown as unknown[]).splice(1, 1, 'far'),
      /^points\[0\]\.at\[1\]: needs a length in mm, but is "far"/,
    ],
    ['a missing title', (d) => void delete d['title'], /^title: needs a text, but is missing/],
    [
      'two numbers for three',
      (d) => ((d as never as Job).points[2]!.at as unknown as unknown[]).pop(),
      /^points\[2\]\.at(\[2\])?: /,
    ],
    [
      'a wrong word',
      (d) => Object.assign((d as never as Job).hinge, { opens: 'sideways' }),
      /^hinge\.opens: needs "up" or "down", but is "sideways"/,
    ],
    [
      'a list that is an object',
      (d) => Object.assign(d, { masses: {} }),
      /^masses: needs a list of masses, but is an object/,
    ],
    [
      'quantity 3',
      (d) => Object.assign((d as never as Job).struts[0]!, { quantity: 3 }),
      /^struts\[0\]\.quantity: needs 1 or 2/,
    ],
    ['no load case', (d) => Object.assign(d, { loadCases: [] }), /^loadCases: /],
    ['an empty id', (d) => Object.assign((d as never as Job).points[4]!, { id: '' }), /^points\[4\]\.id: /],
  ])('%s', (_, edit, wanted) => {
    expect(said(refusal(() => readJob(edited(edit)))).join('\n')).toMatch(wanted);
  });
  it('all faults come at once, each with its place', () => {
    const error = refusal(() =>
      readJob(
        edited((d) => {
          const job = d as never as Job;
          Object.assign(job.hinge, { opens: 1 });
          Object.assign(job.masses[1]!, { kg: 'heavy' });
          Object.assign(job.travel, { stop: null });
        }),
      ),
    );
    expect(said(error).map((s) => s.split(':')[0])).toEqual(
      expect.arrayContaining(['hinge.opens', 'masses[1].kg', 'travel.stop']),
    );
  });
  it('hundreds of faults are listed to a point and counted', () => {
    const error = refusal(() => readJob(edited((d) => Object.assign(d, { points: Array(300).fill(0) }))));
    expect(error.issues.length).toBeLessThanOrEqual(41);
    expect(error.issues.at(-1)!.what).toMatch(/\d+ more faults/);
  });
  it('text that is no JSON says line and column', () => {
    expect(refusal(() => readJob('{\n "format": "lidwright-job",\n oops\n}')).what).toMatch(/line 3, column 2/);
    expect(refusal(() => readJob('')).what).toMatch(/empty/);
    expect(refusal(() => readJob(' \n\t')).what).toMatch(/empty/);
  });
  it.each(['NaN', 'Infinity', '-Infinity'])('%s in the file is named', (word) => {
    const text = fileText(files[0]!).replace(/"frictionNm": [\d.]+/, `"frictionNm": ${word}`);
    const error = refusal(() => readJob(text));
    expect(error.what).toContain(word);
    expect(error.what).toMatch(/line \d+, column \d+/);
  });
  it('a torn file ends in the middle', () => {
    const text = fileText(files[0]!);
    expect(refusal(() => readJob(text.slice(0, text.length / 2))).what).toMatch(/ends in the middle|not JSON/);
  });
  it('an issue reads as sentences: place, what, advice', () => {
    const issue = { what: 'needs a length', where: ['points', 3, 'at', 0], advice: 'Type it in mm.' };
    expect(describeIssue(issue)).toBe('points[3].at[0]: needs a length. Type it in mm.');
    expect(describeIssue({ ...issue, what: 'That is no command.', where: [] })).toBe(
      'That is no command. Type it in mm.',
    );
    expect(describeIssue({ ...issue, advice: '' })).toBe('points[3].at[0]: needs a length');
  });
});
