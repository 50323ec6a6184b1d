// What `npm start` was asked for, and what it should do: decisions only, nothing is started here.

/** The port that is ours: what the browser keeps (drafts, recent jobs, imported lists) belongs to an address, port included. */
export const OWN_PORT = 47613;

export const START_HELP = `Usage: npm start -- [options] [JOB.lidjob]

Opens Lidwright: in a window of its own where Electron can be had, else in the browser.

  JOB.lidjob   open this job (in the window; in the browser it is opened from the page)
  --serve      serve the page for a browser, even where Electron is there
  --port N     serve on this port of 127.0.0.1 (otherwise ${OWN_PORT}); implies --serve
  --no-open    do not open a browser
  --fetch      try once more to fetch Electron's program
  --help       this text
`;

/**
 * @param {string[]} args
 * @returns {{ serve: boolean, open: boolean, port: number, fetch: boolean, help: boolean, job: string | null }}
 * @throws {Error} in plain words
 */
export function parseStartArgs(args) {
  const options = { serve: false, open: true, port: OWN_PORT, fetch: false, help: false, job: null };
  const rest = [...args];
  let onlyNames = false;
  while (rest.length > 0) {
    const word = rest.shift();
    const [flag, inline] = word.startsWith('--port=') ? ['--port', word.slice(7)] : [word, null];
    if (onlyNames || !word.startsWith('-')) {
      if (options.job !== null) throw new Error(`One job at a time: both "${options.job}" and "${word}" were given.`);
      options.job = word;
    } else if (word === '--') onlyNames = true;
    else if (flag === '--serve') options.serve = true;
    else if (flag === '--no-open') options.open = false;
    else if (flag === '--fetch') options.fetch = true;
    else if (flag === '--help' || flag === '-h') options.help = true;
    else if (flag === '--port') {
      const text = inline ?? rest.shift();
      const port = /^\d{1,5}$/.test(text ?? '') ? Number(text) : NaN;
      if (!(port >= 1 && port <= 65535))
        throw new Error(`--port needs a number from 1 to 65535; "${text ?? ''}" is none. Example: --port 5199.`);
      options.port = port;
      options.serve = true;
    } else throw new Error(`"${word}" is no option of npm start. "npm start -- --help" lists them.`);
  }
  return options;
}

/** Is there a screen that a window could open on? */
export function hasDisplay({ platform, env }) {
  if (platform === 'win32') return true;
  if (platform === 'darwin') return !env.SSH_CONNECTION;
  return Boolean(env.DISPLAY || env.WAYLAND_DISPLAY);
}

/** Why Electron can't be used here whatever binary there is; null when it can. */
export function whyNoWindow({ options, platform, env, uid }) {
  if (options.serve) return 'you asked for --serve';
  if (!hasDisplay({ platform, env })) return 'there is no display here';
  if (platform === 'linux' && uid === 0)
    return "its window keeps the page in a sandbox, which does not work for the administrator's account (root)";
  return null;
}

/** The program that opens an address in the user's own browser. */
export function browserCommand(platform, address) {
  if (platform === 'win32') return { command: 'cmd', args: ['/c', 'start', '""', address] };
  if (platform === 'darwin') return { command: 'open', args: [address] };
  return { command: 'xdg-open', args: [address] };
}

/** Did Electron's window fail to come up at all (as opposed to: ran, and ended somehow)? */
export function windowFailed({ code, signal, error, ranMs }) {
  if (error) return true;
  if (signal === 'SIGINT' || signal === 'SIGTERM') return false;
  return code !== 0 && ranMs < 5_000;
}
