// Imported first by every script: a Node that is too old is turned away in words, not with a stack trace.
import { nodeIsOldIn, oldNodeWords } from './node-version.mjs';

if (nodeIsOldIn(process.versions.node)) {
  process.stderr.write(`${oldNodeWords(process.versions.node)}\n`);
  process.exit(2);
}
