/** Relations: filled in the next commit. */
export function RelationsPart(): React.JSX.Element {
  return <></>;
}
