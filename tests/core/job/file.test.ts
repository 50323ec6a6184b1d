// The job's file: plain JSON, or a ZIP with the pictures. Zips of others are made by the system's own zip where it is there.
import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { unzipSync, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import {
  type Job,
  LARGEST_JOB_BYTES,
  LARGEST_PICTURES_BYTES,
  LARGEST_PICTURE_BYTES,
  NO_OTHERS,
  checkPictureRoom,
  pictureOf,
  pictureText,
  picturesBytes,
  readJobFile,
  utf8Text,
  writeJob,
  writeJobFile,
} from '../../../core/job';
import { crc32, readZip, writeZip } from '../../../core/job/zip';
import { jobAt } from '../../support/files';
import { refusal } from '../../support/refusal';
import { runs } from '../../support/tier';

const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const example: Job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
function random(length: number, seed: number): Uint8Array<ArrayBuffer> {
  const words = new Uint32Array(Math.ceil(length / 4));
  for (let i = 0; i < words.length; i++) words[i] = Math.imul((i + 1) ^ (i << 13), 2654435761 + 2 * seed);
  return new Uint8Array(words.buffer, 0, length);
}

/** The example with its photos as pictures inside. */
function withPictures(...pictures: string[]): Job {
  const [first] = example.photos!;
  return {
    ...example,
    photos: pictures.map((inside, i) => ({ ...first!, id: `p${i}`, source: { inside } })),
  };
}
const jpeg = (length: number, seed = 1): string => pictureText('a.jpg', random(length, seed))!;

describe('a job without pictures inside', () => {
  it('is plain JSON, the same text as ever', () => {
    const bytes = writeJobFile({ job: example, others: NO_OTHERS });
    expect(new TextDecoder().decode(bytes)).toBe(writeJob(example));
    expect(readJobFile('a', bytes)).toMatchObject({ job: example, others: NO_OTHERS });
  });

  it('may hold photos that lie beside it', () => {
    const [photo] = example.photos!;
    const job = { ...example, photos: [{ ...photo!, source: { beside: 'side.jpg' } }] };
    expect(writeJobFile({ job, others: NO_OTHERS })[0]).toBe('{'.charCodeAt(0));
  });
});

describe('a job with pictures inside', () => {
  const job = withPictures(jpeg(5000, 1), pictureText('b.png', random(700, 2))!, pictureText('c.webp', random(3, 3))!);

  it('is a ZIP of job.json and the pictures, and comes back the same', () => {
    const bytes = writeJobFile({ job, others: NO_OTHERS });
    const found = unzipSync(bytes); // another reader than ours
    expect(Object.keys(found)).toEqual(['job.json', 'p0.jpg', 'p1.png', 'p2.webp']);
    expect([...found['p1.png']!]).toEqual([...random(700, 2)]);
    const inner = JSON.parse(new TextDecoder().decode(found['job.json'])) as Job;
    expect(inner.photos!.map((p) => p.source)).toEqual([
      { beside: 'p0.jpg' },
      { beside: 'p1.png' },
      { beside: 'p2.webp' },
    ]);
    expect(writeJob(readJobFile('a', bytes).job)).toBe(writeJob(job));
    expect(bytes.length).toBeLessThan(writeJob(job).length);
  });

  it('the same job gives the same bytes, whatever the clock says', () => {
    const first = writeJobFile({ job, others: NO_OTHERS });
    expect(Buffer.compare(first, writeJobFile(readJobFile('a', first)))).toBe(0);
  });

  it('keeps members that it knows nothing of, and takes none of their names', () => {
    const bytes = writeJobFile({
      job,
      others: new Map([
        ['P0.jpg', utf8('not mine')],
        ['notes/a.txt', utf8('rope')],
      ]),
    });
    const { others, job: again } = readJobFile('a', bytes);
    expect(writeJob(again)).toBe(writeJob(job));
    expect([...others].map(([name, content]) => [name, new TextDecoder().decode(content)])).toEqual([
      ['P0.jpg', 'not mine'],
      ['notes/a.txt', 'rope'],
    ]);
    const bare: Job = { ...job, photos: [] };
    expect(readJobFile('a', writeJobFile({ job: bare, others })).others.size).toBe(2);
  });

  it('leaves alone a photo that lies beside the file, and never takes its name', () => {
    const [, ...rest] = job.photos!;
    const mixed = { ...job, photos: [{ ...job.photos![0]!, id: 'x', source: { beside: 'p1.png' } }, ...rest] };
    const again = readJobFile('a', writeJobFile({ job: mixed, others: NO_OTHERS }));
    expect(writeJob(again.job)).toBe(writeJob(mixed));
    expect(again.others.size).toBe(0);
  });

  it('reads packed and stored members of another program, and its own kinds of names', () => {
    const bare = { ...job, photos: [{ ...job.photos![0]!, source: { beside: 'seite – vorn.jpeg', note: 1 } }] };
    const bytes = zipSync({
      'seite – vorn.jpeg': [random(900, 4), { level: 9 }],
      'job.json': [utf8(JSON.stringify(bare)), { level: 0 }],
    });
    const read = readJobFile('a', bytes);
    expect(read.job.photos![0]!.source).toEqual({ note: 1, inside: jpeg(900, 4) });
    expect(read.others.size).toBe(0);
  });

  it('a picture whose text is not how its bytes are written stays as it is', () => {
    for (const inside of ['data:image/png;base64,QUJ', 'data:image/png;base64,QU JD', 'data:image/png;base64,!']) {
      expect(pictureOf(inside)).toBeNull();
      const odd = withPictures(inside, jpeg(10));
      expect(readJobFile('a', writeJobFile({ job: odd, others: NO_OTHERS })).job).toEqual(odd);
    }
  });
});

/** A ZIP of one member written by hand, each field as told. */
function oneMember(
  fields: Partial<{ name: string; localName: string; method: number; flags: number; crc: number; size: number }> & {
    packed: Uint8Array;
  },
  twice = false,
): Uint8Array {
  const { name = 'job.json', method = 8, flags = 0, crc = 0, size = 0, packed } = fields;
  const localName = fields.localName ?? name;
  const u16 = (n: number): number[] => [n & 255, n >> 8];
  const u32 = (n: number): number[] => [...u16(n & 0xffff), ...u16(n >>> 16)];
  const facts = [
    ...u16(20),
    ...u16(flags),
    ...u16(method),
    ...u32(0),
    ...u32(crc),
    ...u32(packed.length),
    ...u32(size),
  ];
  const local = [...u32(0x04034b50), ...facts, ...u16(localName.length), ...u16(0), ...utf8(localName)];
  const entry = [
    ...[...u32(0x02014b50), ...u16(20), ...facts, ...u16(name.length), ...u16(0), ...u16(0), ...u16(0), ...u16(0)],
    ...[...u32(0), ...u32(0), ...utf8(name)],
  ];
  const entries = twice ? [...entry, ...entry] : entry;
  const n = twice ? 2 : 1;
  const end = [...u32(0x06054b50), ...u32(0), ...u16(n), ...u16(n), ...u32(entries.length)];
  return Uint8Array.from([...local, ...packed, ...entries, ...end, ...u32(local.length + packed.length), ...u16(0)]);
}

describe('a ZIP that is not as it should be', () => {
  const limits = { members: 10, bytes: 1e6 };
  const packed = deflateRawSync(utf8('{"a": 1}'));
  const good = { packed, crc: crc32(utf8('{"a": 1}')), size: 8 };

  it('a good one by hand is read', () => {
    expect(new TextDecoder().decode(readZip(oneMember(good), limits).get('job.json'))).toBe('{"a": 1}');
    expect(crc32(utf8('123456789'))).toBe(0xcbf43926); // the check value of CRC-32 in its catalogues of parameters
  });

  it.each([
    ['a wrong sum', { ...good, crc: good.crc ^ 1 }, /the sum of "job\.json" is wrong/],
    ['a size too small', { ...good, size: 7 }, /unpacks to more/],
    ['a size too large', { ...good, size: 9 }, /ends too early/],
    ['cut content', { ...good, packed: packed.subarray(0, packed.length - 3) }, /ends too early|can't be unpacked/],
    ['no packed content at all', { ...good, packed: utf8('\xff\xff\xff') }, /can't be unpacked|ends too early/],
    ['a way out', { ...good, name: '../job.json' }, /leads out/],
    ['a way out by backslash', { ...good, name: 'a\\..\\..\\b' }, /leads out/],
    ['a root', { ...good, name: '/etc/passwd' }, /leads out/],
    ['a drive', { ...good, name: 'C:x' }, /leads out/],
    ['another name at its place', { ...good, localName: 'job.jsom' }, /another name/],
    ['a password', { ...good, flags: 1 }, /password/],
    ['another packing', { ...good, method: 12 }, /not read here/],
    ['more than the limit', { ...good, size: 2e6 }, /unpacks to more than/],
  ])('%s is refused', (_, fields, words) => {
    expect(refusal(() => readZip(oneMember(fields), limits)).what).toMatch(words);
  });

  it('a doubled name, a missing end, parts, the 64-bit kind and too many members are refused', () => {
    expect(refusal(() => readZip(oneMember(good, true), limits)).what).toMatch(/twice/);
    const whole = oneMember(good);
    const patched = (back: number, ...bytes: number[]): Uint8Array => {
      const copy = whole.slice();
      copy.set(bytes, copy.length - back);
      return copy;
    };
    expect(refusal(() => readZip(whole.subarray(0, 60), limits)).what).toMatch(/end is missing/);
    expect(refusal(() => readZip(new Uint8Array([0x50, 0x4b, 3, 4]), limits)).what).toMatch(/end is missing/);
    expect(refusal(() => readZip(patched(18, 1, 0), limits)).what).toMatch(/one part of several/);
    expect(refusal(() => readZip(patched(6, 255, 255, 255, 255), limits)).what).toMatch(/64-bit/);
    expect(refusal(() => readZip(patched(6, 0, 0, 0, 10), limits)).what).toMatch(/runs past/);
    const many = writeZip(new Map(Array.from({ length: 11 }, (_, i) => [`${i}.txt`, utf8('x')])));
    expect(refusal(() => readZip(many, limits)).what).toMatch(/11 files lie in the ZIP/);
  });

  it('one that unpacks to very much is refused before it does, whatever its header says', () => {
    const bomb = deflateRawSync(new Uint8Array(300e6));
    const before = process.memoryUsage().arrayBuffers;
    for (const size of [10, 1e6]) {
      const zip = oneMember({ packed: bomb, size });
      expect(refusal(() => readZip(zip, limits)).what).toMatch(/unpacks to more/);
    }
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(150e6);
  });

  it('without a job.json, or with a torn one, it is no job', () => {
    const zip = (text: string, name = 'job.json'): Uint8Array => writeZip(new Map([[name, utf8(text)]]));
    expect(refusal(() => readJobFile('a', zip('{}', 'notes.txt'))).what).toBe('"a" is a ZIP without job.json');
    expect(refusal(() => readJobFile('a', zip('{"format":'))).what).toMatch(/ends in the middle/);
    expect(refusal(() => readJobFile('a', zip('{}'))).what).toMatch(/lidwright-job/);
  });

  it('any byte changed is refused or changes nothing that is read', () => {
    const job = withPictures(jpeg(300));
    const whole = writeJobFile({ job, others: new Map([['notes.txt', utf8('rope')]]) });
    const text = writeJob(job);
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.integer({ min: 1, max: 255 }), (at, by) => {
        const changed = whole.slice();
        changed[at] = changed[at]! ^ by;
        let read;
        try {
          read = readJobFile('a', changed);
        } catch (error) {
          expect(error).toMatchObject({ name: 'LidwrightError' });
          return;
        }
        expect(writeJob(read.job) === text && read.others.get('notes.txt')?.length === 4).toBe(true);
      }),
      { numRuns: runs(3000) },
    );
  });
});

describe('limits, in bytes', () => {
  it('are the same at reading and writing, told with what to do', () => {
    const large = withPictures(...[1, 2, 3, 4, 5, 6, 7].map((seed) => jpeg(10e6, seed)));
    expect(refusal(() => writeJobFile({ job: large, others: NO_OTHERS })).what).toMatch(/66\.\d MiB long; .* 64 MiB/);
    expect(refusal(() => readJobFile('a', new Uint8Array(LARGEST_JOB_BYTES + 1))).what).toMatch(/64 MiB at most/);
    expect(refusal(() => readJobFile('a', new Uint8Array())).what).toBe('"a" is empty.');
  });

  it('a job as large as may be is written and read again', () => {
    const job = withPictures(...[1, 2, 3, 4, 5, 6].map((seed) => jpeg(10e6, seed)));
    expect(picturesBytes(job)).toBeLessThanOrEqual(LARGEST_PICTURES_BYTES);
    checkPictureRoom(job, 'x.jpg', LARGEST_PICTURES_BYTES - picturesBytes(job));
    const bytes = writeJobFile({ job, others: NO_OTHERS });
    expect(bytes.length).toBeLessThanOrEqual(LARGEST_JOB_BYTES);
    expect(readJobFile('a', bytes).job.photos![5]!.source).toEqual(job.photos![5]!.source);
  });

  it('are told before a picture is taken in', () => {
    const text = `data:image/jpeg;base64,${'A'.repeat(40e6 - 24)}`;
    const job = withPictures(text, text);
    expect(refusal(() => checkPictureRoom(job, 'x.jpg', 10e6)).what).toBe(
      '"x.jpg" is 10.0 MB long, and of 62.9 MB for pictures 60.0 MB are taken',
    );
    expect(refusal(() => checkPictureRoom(example, 'x.jpg', LARGEST_PICTURE_BYTES + 1)).what).toMatch(
      /may be 45\.0 MB/,
    );
    expect('data:image/jpeg;base64,'.length + Math.ceil(LARGEST_PICTURE_BYTES / 3) * 4).toBeLessThanOrEqual(60e6);
  });
});

describe('text that is not UTF-8', () => {
  it('is refused with line and byte', () => {
    const head = utf8('{\n "title": "Lüke",\n "x": "');
    const bytes = Uint8Array.from([...head, 0xfc, 0x22, 0x7d]);
    expect(refusal(() => utf8Text('a.lidjob', bytes)).what).toBe(
      `"a.lidjob" is no text: line 3 holds bytes that are not UTF-8 (at byte ${head.length}).`,
    );
    expect(refusal(() => utf8Text('a', Uint8Array.from([0xff, 0xfe, 0x7b, 0]))).what).toMatch(/line 1 .*byte 0/);
    expect(refusal(() => utf8Text('a', Uint8Array.from([0x61, 0x0a, 0xe2, 0x82]))).what).toMatch(/line 2 .*byte 2/);
    expect(utf8Text('a', Uint8Array.from([0xef, 0xbb, 0xbf, 0x7b]))).toBe('{');
  });
});
