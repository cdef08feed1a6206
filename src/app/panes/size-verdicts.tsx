/**
 * The verdict of every size of a plan for several. The size that the plan follows is the one on the table; the others
 * are relaxed one after another in a worker of their own once that is done, and kept.
 */
import type { Plan } from '../../plan/plan.ts';
import { sizeNames } from '../../plan/size-names.ts';
import type { Report } from '../../report/report.ts';
import { sizeFact } from '../../report/words/size-fact.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { type Measured, useMeasured } from '../blanket/measure-squares.ts';
import { usePage } from '../state/page-store.ts';
import { type Units, unitOf } from '../state/units.ts';

/** The same plan following another size: the first line that names one is heeded. */
export function textAtSize(text: string, size: number): string {
  return `Size: ${size + 1}\n${text}`;
}

export function SizeVerdicts({ plan, report }: { readonly plan: Plan; readonly report: Report }) {
  const { sizes } = plan;
  const units = usePage((state) => state.preferences.units);
  const busy = usePage((state) => state.work.state !== 'rest' || state.advising);
  const names = sizeNames(plan);
  const texts = names.map((_, k) => (k === sizes?.chosen ? null : textAtSize(plan.text, k)));
  const known = useMeasured(busy ? [] : texts.filter((text) => text !== null));
  if (!sizes) return null;
  return (
    <section className="verdict-part" aria-labelledby="sizes-name">
      <h3 id="sizes-name">Every size</h3>
      <table className="rounds-table">
        <thead>
          <tr>
            <th scope="col">Size</th>
            <th scope="col">Comes to</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody aria-live="polite">
          {texts.map((text, k) => (
            <tr key={names[k]}>
              <th scope="row">{text === null ? `${names[k]} (shown)` : names[k]}</th>
              {text === null ? (
                <Row report={report} units={units} />
              ) : (
                <OtherRow measured={known(text)} units={units} />
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Row({ report, units }: { readonly report: Report; readonly units: Units }) {
  const size = sizeFact(report, unitOf(units));
  const provisional = report.relaxation.converged ? '' : ' (provisional: it did not come to rest)';
  return (
    <>
      <td>{size.words}</td>
      <td>
        {VERDICT_HEADLINES[report.verdict]}
        {provisional}
      </td>
    </>
  );
}

function OtherRow({ measured, units }: { readonly measured: Measured; readonly units: Units }) {
  if (measured.state === 'rest') return <Row report={measured.knitted.report} units={units} />;
  return (
    <>
      <td>–</td>
      <td>{measured.state === 'failed' ? measured.message : 'being worked out'}</td>
    </>
  );
}
