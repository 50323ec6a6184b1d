// Core's ms for one edit of each kind: what the page's store asks for after it, from the changed job to the findings shown.
//   node tests/bench/edits.mjs CHECKOUT [CHECKOUT]
// Each checkout is a working tree with its packages installed, say an older commit and this one; they take turns, edit by edit.
// A pause long enough for the slow checks, which a worker makes, lies between the edits but not between the steps of a drag.
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'vite';

const TIMES = Number(process.env.EDIT_TIMES ?? 80);
const WARM = 20;
const checkouts = process.argv.slice(2).map((folder) => path.resolve(folder));
if (checkouts.length === 0) throw new Error('Give at least one checkout.');

/** What a checkout's store runs: with workings, or, before there were any, everything anew but in a drag. */
const WORKINGS = `
import { METRIC } from 'CORE/quantity';
import { slowAnswers, workingsOf } from 'CORE/workings';
let w;
export function edited(job) {
  w = workingsOf(job, METRIC, w);
  return [w.trouble, w.job, w.frame, w.findingsSoFar, w.missing].length;
}
export function rested(job) {
  const asked = workingsOf(job, METRIC, w);
  asked.take(slowAnswers(asked));
  w.learn(asked);
  w.findingsSoFar;
}`;
const OUTCOMES = `
import { METRIC } from 'CORE/quantity';
import { workOut } from 'CORE/findings';
import { resolveJob } from 'CORE/job';
let outcome;
export function edited(job, live) {
  outcome = workOut(resolveJob(job), METRIC, live ? outcome : undefined);
  return outcome.findings.length;
}
export const rested = () => undefined;`;

const folder = mkdtempSync(path.join(tmpdir(), 'lidwright-edits-'));

/** A checkout's core, bundled as its page gets it. */
async function coreOf(checkout, k) {
  const core = path.join(checkout, 'core');
  const entry = path.join(folder, `${k}.ts`);
  const store = existsSync(path.join(core, 'workings')) ? WORKINGS : OUTCOMES;
  writeFileSync(
    entry,
    `${store}\nexport { movePoint, readJob, setPhoto, setValue } from 'CORE/job';`.replaceAll('CORE', core),
  );
  const lib = { entry, formats: ['es'], fileName: () => `${k}.mjs` };
  const out = { lib, outDir: folder, emptyOutDir: false };
  await build({ configFile: false, publicDir: false, logLevel: 'error', root: checkout, build: out });
  const bundle = await import(path.join(folder, `${k}.mjs`));
  const boat = bundle.readJob(readFileSync(path.join(checkout, 'assets/examples/workboat-hatch.lidjob'), 'utf8'));
  return { ...bundle, boat };
}

/** A tape reading beside the workboat's own data, so that there is a note to change. */
const READING = { id: 'r1', kind: 'tape', points: ['s1-base', 's1-lid'], valueMm: 495 };
const set = (at, value) => (core, job, k) => core.setValue(job, { path: at, value: value(k) });

/** Each kind of edit, its k-th one made of the job before. */
const EDITS = {
  title: set(['title'], (k) => `Hatch ${k}`),
  'photo opacity': ({ setPhoto }, job, k) => setPhoto(job, { id: 'side', patch: { opacity: 0.3 + (k % 50) / 100 } }),
  "a reading's note": set(['observations', 0, 'name'], (k) => `Note ${k}`),
  'a mass': set(['masses', 0, 'kg'], (k) => 31 + k / 100),
  'strut force': set(['struts', 0, 'spec', 'forceN'], (k) => 880 + k / 4),
  'bracket thickness': set(['brackets', 0, 'thicknessMm'], (k) => 8 + k / 1000),
};

function pivotDragged({ movePoint }, job, k) {
  const turn = ((k % 90) * 4 * Math.PI) / 180;
  const at = [-290 + 12 * Math.cos(turn), -516 + 7 * Math.sin(turn), 372 + 9 * Math.sin(2 * turn)];
  return movePoint(job, { id: 's1-lid', at });
}

/** Ms of each edit, checkout by checkout. */
function timed(cores, start, edit, live, warm = WARM) {
  const taken = cores.map(() => []);
  const jobs = cores.map((core) => start(core.boat));
  cores.forEach((core, c) => (core.edited(jobs[c], false), core.rested(jobs[c])));
  for (let k = 0; k < warm + TIMES; k++)
    cores.forEach((core, c) => {
      const job = edit(core, jobs[c], k);
      const from = performance.now();
      core.edited(job, live);
      if (k >= warm) taken[c].push(performance.now() - from);
      if (live) return;
      core.rested(job);
      jobs[c] = job;
    });
  return taken;
}

const at = (times, share) => [...times].sort((a, b) => a - b)[Math.floor(share * (times.length - 1))].toFixed(2);

try {
  const cores = await Promise.all(checkouts.map(coreOf));
  console.log(`ms of core an edit, workboat's hatch: median and 95th percentile of ${TIMES}`);
  checkouts.forEach((checkout, c) => console.log(`  ${'ABCDEF'[c] ?? c}: ${checkout}`));
  const row = (name, taken) =>
    console.log(name.padEnd(30) + taken.map((t) => at(t, 0.5).padStart(10) + at(t, 0.95).padStart(10)).join('  '));
  const boat = (job) => ({ ...job, observations: [READING] });
  for (const [name, edit] of Object.entries(EDITS)) row(name, timed(cores, boat, edit, false));
  const threeCases = (job) => ({ ...job, loadCases: job.loadCases.slice(0, 3) });
  const dragged = (warm) => timed(cores, threeCases, pivotDragged, true, warm);
  // while the engine still compiles, it stops a step now and then
  row('a drag step, 3 load cases', dragged(WARM));
  row('the same, warm', dragged(1500));
} finally {
  rmSync(folder, { recursive: true });
}
