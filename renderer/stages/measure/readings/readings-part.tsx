/** Readings: filled in the next commit. */
export function ReadingsPart(): React.JSX.Element {
  return <></>;
}
