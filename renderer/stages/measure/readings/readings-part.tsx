import { Part } from '../../../ui/fields';
import { DatumPart } from './datum-part';
import { ResultPart } from './result-part';
import { TableExchange } from './table-exchange';

/** What the readings in the table beside come to, and tables from and for a spreadsheet. */
export const ReadingsPart = (): React.JSX.Element => (
  <Part title="What the readings say">
    <DatumPart />
    <ResultPart />
    <TableExchange />
  </Part>
);
