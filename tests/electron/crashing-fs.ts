// A file system that stops dead at a chosen step, as a machine does that loses power: nothing after it runs, no clean-up
// either. A write that is cut leaves half of its bytes.
import * as nodeFs from 'node:fs/promises';
import type { WritingFs } from '../../electron/files';

class Crash extends Error {}

export interface CrashingFs {
  fs: WritingFs;
  /** The steps that were begun, in order. */
  steps: string[];
}

/** @param crashAt the number of the step, from 0, that does not happen any more */
export function crashingFs(crashAt: number): CrashingFs {
  const steps: string[] = [];
  const step = async <T>(name: string, work: () => Promise<T>, half?: () => Promise<unknown>): Promise<T> => {
    const number = steps.length;
    if (number > crashAt) throw new Crash(`after the crash: ${name}`);
    steps.push(name);
    if (number === crashAt) {
      await half?.();
      throw new Crash(name);
    }
    return work();
  };

  const open: WritingFs['open'] = async (file, flags, mode) => {
    const kind = flags === 'r' ? 'folder' : 'file';
    const handle = await step(`open ${kind}`, () => nodeFs.open(file, flags, mode));
    return new Proxy(handle, {
      get(target, key) {
        if (key === 'writeFile')
          return (content: string | Uint8Array) =>
            step(
              'write',
              () => target.writeFile(content),
              () => target.writeFile(content.slice(0, content.length / 2)),
            );
        if (key === 'sync') return () => step(`sync ${kind}`, () => target.sync());
        if (key === 'chmod') return (bits: number) => step('chmod', () => target.chmod(bits));
        if (key === 'close') {
          const close = () => target.close(); // a dead machine's files are closed too
          return () => (steps.length > crashAt ? close() : step(`close ${kind}`, close, close));
        }
        return Reflect.get(target, key) as unknown;
      },
    });
  };

  return {
    steps,
    fs: {
      open,
      rename: (from, to) => step('rename', () => nodeFs.rename(from, to)),
      unlink: (file) => step('unlink', () => nodeFs.unlink(file)),
      stat: ((file: string) => step('stat', () => nodeFs.stat(file))) as WritingFs['stat'],
      readlink: ((file: string) => step('readlink', () => nodeFs.readlink(file))) as WritingFs['readlink'],
      realpath: nodeFs.realpath,
      access: (file, mode) => step('access', () => nodeFs.access(file, mode)),
    },
  };
}
