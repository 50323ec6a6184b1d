// Writes assets/lidjob.schema.json from the zod schema; a test fails when the two differ.
import { writeFileSync } from 'node:fs';
import { jobJsonSchema } from '../core/job';

writeFileSync(
  new URL('../assets/lidjob.schema.json', import.meta.url),
  `${JSON.stringify(jobJsonSchema(), null, 1)}\n`,
);
