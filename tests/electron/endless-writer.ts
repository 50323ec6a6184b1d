// Run by files.test.ts in a process of its own, to be killed at some instant: saves two contents in turn, for ever.
import { writeWhole } from '../../electron/files';

const file = process.argv[2] ?? '';
process.stdout.write('writing\n');
for (let turn = 0; ; turn++) await writeWhole(file, (turn % 2 === 0 ? 'a' : 'b').repeat(4_000_000));
