/** The oldest Node that runs the tools of this house (package.json says the same under "engines"). */
export const OLDEST_NODE = [20, 19];

/** True when a version such as "20.11.1" is older than OLDEST_NODE, or can't be read at all. */
export function nodeIsOldIn(version) {
  const [major = NaN, minor = 0] = String(version).split('.').map(Number);
  if (!Number.isFinite(major)) return true;
  return major < OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor < OLDEST_NODE[1]);
}

/** What a person with an old Node reads. */
export function oldNodeWords(version) {
  return (
    `Lidwright needs Node ${OLDEST_NODE.join('.')} or newer; this is Node ${version}. ` +
    'Install a current Node (a long-term-support release, from your system or from the Node project) and start again.'
  );
}
