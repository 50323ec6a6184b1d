// The headless command. What it prints on stdout is the answer and nothing else; everything that goes wrong is on stderr.
import { version } from '../package.json';
import { processIo, type Io } from './headless/io';
import { HELP, readCommand } from './headless/options';
import { errorWords } from './headless/words';

/** Runs one command line and gives the exit code: 0 none fails, 1 one fails, 2 bad input. Never throws. */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  let about = 'lidwright';
  try {
    const command = readCommand(argv);
    if (command.kind === 'help') io.out(HELP);
    if (command.kind === 'version') io.out(`${version}\n`);
    if (command.kind === 'help' || command.kind === 'version') return 0;
    about = command.job;
    // loaded when needed: the sums and the drawing tools take longer to load than the help to read
    if (command.kind === 'check') return await (await import('./headless/check')).check(command.job, command.json, io);
    if (command.kind === 'new') return await (await import('./headless/new')).fromSizes(command, io);
    if (command.kind === 'list') return await (await import('./headless/list')).list(command, io);
    if (command.kind === 'trace') return await (await import('./headless/trace')).trace(command, io);
    if (command.kind === 'cases') return await (await import('./headless/cases')).cases(command, io);
    if (command.kind === 'need') return await (await import('./headless/need')).need(command, io);
    if (command.kind === 'strut') return await (await import('./headless/strut')).strut(command, io);
    if (command.kind === 'study') return await (await import('./headless/study')).study(command, io);
    if (command.kind === 'find') return await (await import('./headless/find')).find(command, io);
    return await (await import('./headless/papers')).papers(command, io);
  } catch (error) {
    io.err(errorWords(error, about));
    return 2;
  }
}

/** The process's own command line. */
export async function main(argv: readonly string[], { cwd = process.cwd() }: { cwd?: string } = {}): Promise<void> {
  process.exitCode = await run(argv, processIo(cwd)); // not exit(): what is still being written must get out
}
