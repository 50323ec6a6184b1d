// The command's way to the outside: written so that a reader that goes away early ("| head") is no error.

export interface Io {
  out(text: string): void;
  err(text: string): void;
  /** The terminal's width in characters. */
  readonly columns: number;
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly nowMs: number;
}

const WIDTH_WITHOUT_TERMINAL = 100;

/** The process's own streams. */
export function processIo(cwd: string): Io {
  for (const stream of [process.stdout, process.stderr])
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error;
      stream.destroy(); // nobody reads any more: the exit code still says how it went
    });
  const given = Number(process.env['COLUMNS']);
  return {
    out: (text) => void (process.stdout.destroyed || process.stdout.write(text)),
    err: (text) => void (process.stderr.destroyed || process.stderr.write(text)),
    columns: Math.max(
      30,
      (process.stdout.columns as number | undefined) ?? (given > 0 ? given : WIDTH_WITHOUT_TERMINAL),
    ),
    cwd,
    env: process.env,
    nowMs: Date.now(),
  };
}
