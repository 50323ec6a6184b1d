import { describe, expect, it } from 'vitest';
import { fetchedBytes } from '../../../renderer/host/fetched';

const said = async (fetch: () => Promise<Response>): Promise<string> =>
  fetchedBytes(fetch, '/x', 'the letters').then(
    () => 'nothing',
    (error: Error) => error.message,
  );

describe('fetchedBytes', () => {
  it('gives what came, and says what did not by its name', async () => {
    expect(await fetchedBytes(async () => new Response('abc'), '/x', 'x')).toEqual(new TextEncoder().encode('abc'));
    expect(await said(async () => Promise.reject(new TypeError('Failed to fetch')))).toMatch(
      /"the letters" could not be fetched \(Failed to fetch\).*Start it again/,
    );
    expect(await said(async () => new Response('', { status: 404 }))).toMatch(/not among what was shipped \(404\)/);
    const cut = new ReadableStream({ start: (stream) => stream.error(new Error('cut off')) });
    expect(await said(async () => new Response(cut))).toMatch(/could not be fetched \(cut off\)/);
  });
});
