/** How to call npm: the very npm that called us, if one did. */
export function npmCommand() {
  const npm = process.env.npm_execpath;
  if (npm && /npm-cli\.[cm]?js$/.test(npm)) return { command: process.execPath, first: [npm], shell: false };
  const windows = process.platform === 'win32';
  return { command: windows ? 'npm.cmd' : 'npm', first: [], shell: windows };
}
