// Run by files.test.ts in a process of its own, to be killed at some instant: saves two contents in turn, for ever.
import { openJournal, writeWhole } from '../../electron/files';

const [file = '', notes = ''] = process.argv.slice(2);
const journal = await openJournal(notes);
for (let turn = 0; ; turn++) {
  await writeWhole(file, (turn % 2 === 0 ? 'a' : 'b').repeat(400_000), undefined, journal);
  if (turn === 0) process.stdout.write('writing\n');
}
