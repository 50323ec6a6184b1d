import { z } from 'zod';
import { jobSchema } from './schema';

/** JSON Schema (draft 2020-12) of a job file, made from the zod schema. */
export const jobJsonSchema = (): object => z.toJSONSchema(jobSchema, { target: 'draft-2020-12', io: 'input' });
