/**
 * The plan on paper as it is written, with its mistakes. It prints where the table has nothing of its
 * own to print: while a piece is being worked out, and while the plan has mistakes.
 */
import { usePage } from '../state/page-store.ts';
import { PrintSheet } from './print-sheet.tsx';

export function PlanPrint() {
  const title = usePage((state) => state.plan?.title ?? '');
  return (
    <PrintSheet name="plan">
      <h1 className="written-title">{title || 'Plan'}</h1>
      <PlanText />
    </PrintSheet>
  );
}

export function PlanText() {
  const text = usePage((state) => state.text);
  const plan = usePage((state) => state.plan);
  const mistakes = plan?.diagnostics.filter((d) => d.severity === 'error') ?? [];
  return (
    <>
      {mistakes.length > 0 && (
        <>
          <h2>Mistakes in the plan</h2>
          <ul className="dotted">
            {mistakes.map((d) => (
              <li key={`${d.from.line}:${d.from.column}:${d.message}`}>
                Line {d.from.line}: {d.message}
              </li>
            ))}
          </ul>
        </>
      )}
      <h2>The plan as written</h2>
      <pre className="print-text">{text}</pre>
    </>
  );
}
