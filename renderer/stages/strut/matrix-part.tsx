import { useMemo } from 'react';
import { matrix } from '../../../core/choose';
import { showFinding } from '../../state/store';
import { useTold } from '../../state/told';
import { Part } from '../../ui/fields';
import { STATE_WORDS } from '../../ui/finding-words';

/** Findings against load cases; a press shows the finding. The sign tells the state, its words are in the title. */
export function MatrixPart(): React.JSX.Element | null {
  const outcome = useTold((s) => s.outcome);
  const findings = useTold((s) => s.findings);
  const table = useMemo(() => (outcome ? matrix({ job: outcome.job, findings }) : null), [outcome, findings]);
  if (!table) return null;
  return (
    <Part title="Findings against load cases" folded>
      <div className="matrix">
        <table>
          <thead>
            <tr>
              <th>Finding</th>
              {table.caseNames.map((name, i) => (
                <th key={table.caseIds[i]} title={name}>
                  {i + 1}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map((row) => (
              <tr key={`${row.id}:${row.subject}`}>
                <th title={row.subject}>
                  <button type="button" className="link" onClick={() => showFinding(row.worst)}>
                    {row.id.replace(/-/g, ' ')}
                  </button>
                </th>
                {row.cells.map((cell, i) => (
                  <td key={table.caseIds[i]}>
                    {cell && (
                      <button
                        type="button"
                        className={`cell ${cell.state}`}
                        title={`${STATE_WORDS[cell.state].word}: ${cell.text}`}
                        aria-label={`${STATE_WORDS[cell.state].word}: ${cell.text}`}
                        onClick={() => showFinding(cell)}
                      >
                        {STATE_WORDS[cell.state].sign}
                      </button>
                    )}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <ol className="hint">
        {table.caseNames.map((name, i) => (
          <li key={table.caseIds[i]}>{name}</li>
        ))}
      </ol>
    </Part>
  );
}
