// npm run guide: writes what of the guide is made (two pages of docs/, the pictures in assets/guide/); a test fails when
// one of them is not up to date.
import { writeFileSync } from 'node:fs';
import { madeFiles } from './lib/guide-made';

for (const [file, content] of madeFiles()) writeFileSync(new URL(`../${file}`, import.meta.url), content);
