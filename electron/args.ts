// The shapes of what the page may send, checked before anything is done with it.
import { z } from 'zod';
import { LARGEST_JOB_BYTES, LARGEST_PICTURE_BYTES } from '../core/job';
import { DRAFT_PICTURE } from '../renderer/host/names';
import type { Ask } from './channels';

z.config({ jitless: true });

const name = z.string().min(1).max(300);
const token = z.string().max(100);
const bytes = (most: number) =>
  z.instanceof(Uint8Array<ArrayBuffer>).refine(({ byteLength }) => byteLength > 0 && byteLength <= most, {
    message: `between 1 and ${most} bytes`,
  });
const job = bytes(LARGEST_JOB_BYTES);
const digest = z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256 in hex');
const picture = z.string().regex(DRAFT_PICTURE, 'a SHA-256 and an ending');
const pictures = <T extends z.ZodType>(of: T) => z.array(of).max(1000);
const draftId = z.string().regex(/^[a-z0-9-]{1,64}$/i, 'letters, digits and hyphens, at most 64');

export const ARGS = {
  openJob: z.tuple([]),
  recent: z.tuple([]),
  openRecent: z.tuple([token]),
  saveJob: z.tuple([token.nullable(), name, job, digest.nullable()]),
  saveJobAs: z.tuple([name, job]),
  presentDigest: z.tuple([token]),
  exportFile: z.tuple([name, bytes(256 * 1024 * 1024), z.string().max(100)]),
  readAsset: z.tuple([name]),
  readBeside: z.tuple([token, name]),
  missingPictures: z.tuple([pictures(picture)]),
  putDraft: z.tuple([
    z.strictObject({
      ...{ id: draftId, name, pictures: pictures(picture), whenMs: z.int().nonnegative() },
      text: z
        .string()
        .refine((text) => Buffer.byteLength(text) <= LARGEST_JOB_BYTES, { message: 'too long for a job' }),
      ...{
        token: token.nullable(),
        digest: digest.nullable(),
        others: z.record(z.string().max(1000), picture).optional(),
      },
    }),
    pictures(z.tuple([picture, bytes(LARGEST_PICTURE_BYTES)])),
  ]),
  listDrafts: z.tuple([]),
  draftPicture: z.tuple([picture]),
  dropDraft: z.tuple([draftId]),
  listening: z.tuple([]),
  closeAnswer: z.tuple([z.number().int(), z.boolean()]),
} satisfies Record<Ask, z.ZodType<unknown[]>>;

export type ArgsOf<Name extends Ask> = z.infer<(typeof ARGS)[Name]>;
