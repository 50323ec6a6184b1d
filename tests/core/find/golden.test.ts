// Ten jobs made by an independent program: eight with a hidden place, two that have none (tests/fixtures/places).
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { DEEP, sample } from '../../support/tier';
import { applyPlace, fieldOf, holds, judged, search, siteOf, type Place } from '../../../core/find';
import { type Job, readJob } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { readTable } from '../../../core/table';
import { type StrutListEntry, guessColumns, importList } from '../../../core/strut';
import { workingsOf } from '../../../core/workings';

const FOLDER = path.resolve(import.meta.dirname, '../../fixtures/places');
const textOf = (name: string): string => readFileSync(path.join(FOLDER, name), 'utf8');
const FILES = readdirSync(FOLDER);

const listOf = (name: string): readonly StrutListEntry[] | undefined => {
  if (!FILES.includes(`${name}.csv`)) return undefined;
  const table = readTable(textOf(`${name}.csv`));
  return importList(table, guessColumns(table)).entries;
};

interface Truth {
  readonly place: Pick<Place, 'base' | 'lid' | 'quantity' | 'openDeg' | 'spec'> & {
    readonly stems: { readonly base: [number, number, number]; readonly lid: [number, number, number] };
  };
}

/** The job with its strut at the hidden place, stems as they were hidden. */
function hidden(job: Job, { place }: Truth): Job {
  const [strut] = job.struts;
  const fitting = job.find?.fitting;
  const end = (name: 'base' | 'lid') => {
    const { stem: _old, ...kept } = strut!.ends[name];
    return { ...kept, ...(fitting === undefined ? {} : { fitting }), stem: place.stems[name] };
  };
  return {
    ...job,
    travel: { ...job.travel, openDeg: place.openDeg },
    points: job.points.map((p) =>
      p.id === strut!.base ? { ...p, at: place.base } : p.id === strut!.lid ? { ...p, at: place.lid } : p,
    ),
    struts: [
      {
        ...strut!,
        quantity: place.quantity,
        spec: { ...place.spec, listedMm: [place.spec.extendedMm, place.spec.strokeMm] },
        ends: { base: end('base'), lid: end('lid') },
      },
    ],
  } as Job;
}

const planted = FILES.filter((f) => /^plant-.*\.lidjob$/.test(f)).map((f) => f.replace('.lidjob', ''));
const none = FILES.filter((f) => /^none-.*\.lidjob$/.test(f)).map((f) => f.replace('.lidjob', ''));

it('has the ten jobs', () => expect([planted.length, none.length]).toEqual([8, 2]));

it.each(sample(planted, 2))(
  '%s: finds a place as good as the hidden one, and every place offered stands before all findings',
  (name) => {
    const job = readJob(textOf(`${name}.lidjob`));
    const list = listOf(name);
    const field = fieldOf(job, list ? { list } : {});
    const found = search(field)!;
    const truth = JSON.parse(textOf(`${name}.truth.json`)) as Truth;
    const there = judged(workingsOf(hidden(job, truth), METRIC), 0);
    expect(there.refused).toEqual([]);
    expect(found.places[0]!.spare).toBeGreaterThanOrEqual(there.spare);
    for (const place of found.places) {
      const outcome = judged(workingsOf(applyPlace(job, { strutIndex: 0, place }), METRIC), 0);
      expect(outcome.refused).toEqual([]);
      expect(outcome.spare).toBeCloseTo(place.spare, 9);
      for (const end of ['base', 'lid'] as const) {
        const zone = field.job.zones.find((z) => z.id === place.ends[end].zoneId)!;
        expect(zone.on).toBe(end);
        expect(holds(siteOf(zone), place[end])).toBe(true);
        expect(Number.isInteger(place.ends[end].azimuthDeg) && Number.isInteger(place.ends[end].tiltDeg)).toBe(true);
        expect(place.ends[end].tiltDeg).toBeGreaterThanOrEqual(0);
      }
      const wish = job.find?.openDeg as [number, number] | undefined;
      const [least, most] = wish ?? [job.travel.openDeg as number, job.travel.openDeg as number];
      expect(place.openDeg >= least && place.openDeg <= most).toBe(true);
    }
  },
);

it.each(sample(none))('%s: says that nothing works, and what is nearest', (name) => {
  const list = listOf(name);
  const found = search(fieldOf(readJob(textOf(`${name}.lidjob`)), list ? { list } : {}))!;
  expect(found.places).toEqual([]);
  expect(found.nearest!.refused.length).toBeGreaterThan(0);
});

it.runIf(DEEP)('gives the same answer twice', () => {
  const job = readJob(textOf('plant-00008.lidjob'));
  const once = search(fieldOf(job))!;
  expect(search(fieldOf(job))!.places.map(({ base, lid }) => [base, lid])).toEqual(
    once.places.map(({ base, lid }) => [base, lid]),
  );
});
