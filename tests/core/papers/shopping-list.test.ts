import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Bracket, readJob, type ResolvedJob, resolveJob } from '../../../core/job';
import { papersOf, paperFiles } from '../../../core/papers';
import { shoppingRows } from '../../../core/papers/parts';
import { shoppingList } from '../../../core/papers/shopping-list';
import { writeTable } from '../../../core/table';
import { shoppingTable } from '../../../core/papers/shopping-list';
import { fontBytes } from '../drawing/font';
import { collisions } from './overlap';

const text = readFileSync(join(import.meta.dirname, '../../../tests/fixtures/jobs/workboat-hatch.lidjob'), 'utf8');
const job = resolveJob(readJob(text));
const options = { date: '2026-11-29' };
const withBracket = (change: Partial<Bracket>, quantity: 1 | 2 = 1): ResolvedJob => ({
  ...job,
  struts: [{ ...job.struts[0]!, quantity }],
  brackets: [{ ...job.brackets[0]!, ...change }],
});
const row = (j: ResolvedJob, what: RegExp) => shoppingRows(j).find((r) => what.test(r.what))!;

describe('shopping list', () => {
  it('has bolts by their grip: bracket, mount and two washers, then nut and two threads', () => {
    // 8 + 10 + 2 × 2 = 22; nut 8.4 and 2 × 1.5 more: 33.4, sold as 35
    const bolts = row(job, /^Hexagon bolts/);
    expect(bolts.order).toBe('M10 × 35, class 8.8');
    expect(bolts.quantity).toBe(2);
    expect(bolts.remark).toMatch(/grip 22 .*at least 33.4 long.*N·m .*VDI 2230-1, μ 0\.12/);
    expect(row(job, /^Washers/).quantity).toBe(4);
    const pair = withBracket({}, 2);
    expect(row(pair, /^Hexagon bolts/).quantity).toBe(4);
    expect(row(pair, /^Washers/).quantity).toBe(8);
    expect(row(pair, /^Sheet/).quantity).toBe(2);
    expect(row(pair, /^Gas spring/).quantity).toBe(2);
  });

  it('leaves a length open where the mount’s thickness is not known, and says so', () => {
    const { seat: _, ...bare } = job.brackets[0]!;
    const open: ResolvedJob = { ...job, brackets: [bare] };
    expect(row(open, /^Hexagon bolts/).order).toContain('M10 × ?');
    expect(row(open, /^Hexagon bolts/).remark).toMatch(/does not state/);
  });

  it('takes a screw for a tapped hole that does not bottom, and warns where too little thread carries', () => {
    const attach = { by: 'bolts', thread: 'M10', propertyClass: '8.8', into: 'tapped' } as const;
    // 8 + 2 + 10: a screw of 20 carries 10 mm
    expect(row(withBracket({ attach }), /tapped/)).toMatchObject({ order: 'M10 × 20, class 8.8' });
    expect(row(withBracket({ attach: { ...attach, engagementMm: 6 } }), /tapped/).remark).toMatch(/LESS than 0.8/);
  });

  it('says where a stud, a socket and a rod do not go together', () => {
    const strut = job.struts[0]!;
    const ends = { ...strut.ends, base: { ...strut.ends.base, fitting: 'angled-ball-13-m8' } };
    const fitted: ResolvedJob = { ...job, struts: [{ ...strut, ends }] };
    // the bracket's stud is M10, the thread usual on the rod M8
    expect(row(job, /^End fitting, base/).remark).toMatch(/MAY NOT MATCH.*stud is M10, sockets M8/);
    expect(row(fitted, /^End fitting, base/).remark).toMatch(/DOES NOT MATCH.*stud is M10, sockets M8/);
    const right = withBracket({ stud: { thread: 'M8' }, studHole: { ...job.brackets[0]!.studHole, diameterMm: 9 } });
    for (const struts of [right.struts, fitted.struts])
      expect(row({ ...right, struts }, /^End fitting, base/).remark).not.toMatch(/MATCH/);
  });

  it('names what can’t be made instead of leaving it out, and goes on', () => {
    const broken = withBracket({ thicknessMm: 0 });
    expect(row(broken, /^Bracket Base bracket/).order).toMatch(/can’t be made/);
    expect(row(broken, /^Gas spring/)).toBeDefined();
  });

  it('lies on paper with nothing on anything, and says first what stands against ordering', () => {
    for (const j of [job, withBracket({}, 2), withBracket({ thicknessMm: 0 })])
      for (const sheet of shoppingList(j, { ...options, against: 'A check fails' }))
        expect(collisions(sheet)).toEqual([]);
    const words = shoppingList(job, { ...options, against: 'A check fails' })[0]!.parts.flatMap((p) =>
      p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : [])),
    );
    expect(words.join(' ')).toMatch(/NOT READY TO ORDER/);
  });

  it('is written as CSV, one line a row', async () => {
    const papers = papersOf(job, null, { ...options, program: 'test' }).filter((p) => p.kind === 'shopping');
    const { files } = await paperFiles(papers, ['csv'], { ...options, font: fontBytes });
    expect(files.map((f) => f.name)).toEqual(['Workboat-engine-hatch-with-life-raft-canister-shopping.csv']);
    expect(files[0]!.content).toBe(writeTable(shoppingTable(job)));
    expect(String(files[0]!.content).trim().split(/\r?\n/)).toHaveLength(shoppingRows(job).length + 1);
  });
});
