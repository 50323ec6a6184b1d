import { fail } from '../../core/error';

/**
 * The bytes of something shipped with the program. Throws a LidwrightError that calls it `name` when the server is gone or has
 * no such thing.
 */
export async function fetchedBytes(
  fetch: (address: URL | string) => Promise<Response>,
  address: URL | string,
  name: string,
): Promise<Uint8Array<ArrayBuffer>> {
  const unreachable = (cause: unknown): never =>
    fail(
      `"${name}" could not be fetched (${cause instanceof Error ? cause.message : String(cause)}).`,
      [],
      'Is "npm start" still running? Start it again on the same port, then try once more; the page can stay open.',
    );
  const response = await fetch(address).catch(unreachable);
  if (!response.ok)
    fail(
      `"${name}" is not among what was shipped (${response.status}).`,
      [],
      'Build the program again with npm start.',
    );
  return new Uint8Array(await response.arrayBuffer().catch(unreachable));
}
