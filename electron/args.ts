// The shapes of what the page may send, checked before anything is done with it.
import { z } from 'zod';
import { LARGEST_JOB_BYTES } from '../renderer/host/interface';
import type { Ask } from './channels';

z.config({ jitless: true });

const name = z.string().min(1).max(300);
const token = z.string().max(100);
// A character of text is at least one byte of file, so this bounds both.
const text = z.string().min(1).max(LARGEST_JOB_BYTES);
const draftId = z.string().regex(/^[a-z0-9-]{1,64}$/i, 'letters, digits and hyphens, at most 64');

export const ARGS = {
  openJob: z.tuple([]),
  recent: z.tuple([]),
  openRecent: z.tuple([token]),
  saveJob: z.tuple([token.nullable(), name, text]),
  saveJobAs: z.tuple([name, text]),
  exportFile: z.tuple([
    name,
    z.instanceof(Uint8Array).refine((bytes) => bytes.byteLength > 0 && bytes.byteLength <= 256 * 1024 * 1024, {
      message: 'between 1 byte and 256 MiB',
    }),
    z.string().max(100),
  ]),
  readAsset: z.tuple([name]),
  readBeside: z.tuple([token, name]),
  putDraft: z.tuple([
    z.strictObject({ id: draftId, name, text, whenMs: z.number().nonnegative(), token: token.nullable() }),
  ]),
  listDrafts: z.tuple([]),
  dropDraft: z.tuple([draftId]),
  listening: z.tuple([]),
  closeAnswer: z.tuple([z.number().int(), z.boolean()]),
} satisfies Record<Ask, z.ZodType<unknown[]>>;

export type ArgsOf<Name extends Ask> = z.infer<(typeof ARGS)[Name]>;
