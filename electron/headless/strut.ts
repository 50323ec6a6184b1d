// What a strut is that lies on the bench.
import path from 'node:path';
import { exportList } from '../../core/strut';
import { BENCH_SAFETY, type WithBand, measuredStrut, readBench } from '../../core/weigh';
import { writeWhole } from '../files';
import type { Io } from './io';
import { textNamed } from './job';
import type { StrutCommand } from './options';
import { plain } from './table';

/** Says F1, ratio and friction with their bands, and writes the list where one is asked for. Throws a LidwrightError for bad readings. */
export async function strut({ job: name, json, out }: StrutCommand, io: Io): Promise<number> {
  const bench = readBench(await textNamed(name, io));
  const found = measuredStrut(bench);
  if (json) io.out(`${JSON.stringify(found)}\n`);
  else {
    const of = ({ value, plusMinus }: WithBand, digits: number): string =>
      `${value.toFixed(digits)} ± ${plusMinus.toFixed(digits)}`;
    io.out(
      `${plain(bench.name)}: F1 ${of(found.forceN, 0)} N, ratio ${of(found.ratio, 2)}, friction ${of(found.frictionN, 0)} N (95 %)\n`,
    );
    if (found.label !== '') io.out(`${found.label}\n`);
    if (found.unchecked) io.out('Nothing checks these readings: one more at another length would.\n');
    if (found.doubtful.length > 0)
      io.out(
        `Reading ${found.doubtful.map((i) => i + 1).join(', ')}: ${found.doubtful.length === 1 ? 'it does' : 'one at least does'} not fit the others. Read again.\n`,
      );
    io.out(`\nMeasuring one:\n${BENCH_SAFETY.map((line) => `  ${line}\n`).join('')}`);
  }
  if (out !== null) {
    const how = await writeWhole(path.resolve(io.cwd, out), exportList([found.entry]));
    io.err(`${how === 'new' ? 'made' : 'replaced'} ${plain(out)}\n`);
  }
  return found.doubtful.length > 0 ? 1 : 0;
}
