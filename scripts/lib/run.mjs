import { spawn } from 'node:child_process';

/**
 * Runs a program and waits for it. Never throws for a failing program.
 * @returns {Promise<{ code: number | null, signal: string | null, error?: Error, timedOut: boolean }>}
 */
export function run(command, args, { timeoutMs = 0, ...options } = {}) {
  return new Promise((resolve) => {
    let timedOut = false;
    const child = spawn(command, args, { stdio: 'inherit', ...options });
    const timer =
      timeoutMs > 0 &&
      setTimeout(() => {
        timedOut = true;
        child.kill('SIGKILL');
      }, timeoutMs);
    const done = (result) => {
      if (timer) clearTimeout(timer);
      resolve({ timedOut, ...result });
    };
    child.on('error', (error) => done({ code: null, signal: null, error }));
    child.on('exit', (code, signal) => done({ code, signal }));
  });
}
