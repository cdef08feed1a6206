/** Yarn for the piece: metres, grams and balls, with what they are made up of. */
import { stripeShare, type YarnUse } from '../../paper/pattern/yarn-use.ts';
import { colourInWords } from '../../plan/write/colours.ts';
import { numberWord } from '../../report/words/counts.ts';
import { inTerms, ownWords } from '../../report/words/terms.ts';
import { yarnNeeded, yarnPartWords } from '../../report/words/yarn.ts';
import { usePage } from '../state/page-store.ts';
import { colourName } from '../state/square-colours.ts';
import { type Units, unitOf } from '../state/units.ts';
import { choosePattern, usePattern } from './pattern-choices.ts';
import type { PatternFacts } from './pattern-facts.ts';

export function YarnView({ facts }: { readonly facts: PatternFacts }) {
  const choices = usePattern();
  const units = usePage((state) => state.preferences.units);
  const { use, plan } = facts;
  if (!use) return <p className="wait">The yarn follows once the fabric is laid out.</p>;
  return (
    <div className="paper yarn-sheet">
      <YarnFacts use={use} units={units} />
      <div className="wish-row yarn-entries">
        <label className="with-unit">
          Allowance
          <input
            className="entry entry-tiny"
            inputMode="decimal"
            value={choices.allowancePercent}
            onChange={(event) => choosePattern({ allowancePercent: event.target.value })}
          />
          %
        </label>
        <label className="with-unit">
          A ball has
          <input
            className="entry entry-short"
            inputMode="decimal"
            placeholder={plan.yarn?.ballMetres ? String(plan.yarn.ballMetres) : '–'}
            value={choices.ballMetres}
            onChange={(event) => choosePattern({ ballMetres: event.target.value })}
          />
          m
        </label>
        <label className="with-unit">
          and weighs
          <input
            className="entry entry-short"
            inputMode="decimal"
            placeholder={plan.yarn?.ballGrams ? String(plan.yarn.ballGrams) : '–'}
            value={choices.ballGrams}
            onChange={(event) => choosePattern({ ballGrams: event.target.value })}
          />
          g
        </label>
      </div>
      <YarnParts facts={facts} use={use} units={units} />
    </div>
  );
}

const capital = (word: string) => word[0].toUpperCase() + word.slice(1);

function YarnFacts({ use, units }: { readonly use: YarnUse; readonly units: Units }) {
  const { length, mass } = yarnNeeded(use, unitOf(units));
  return (
    <dl className="facts facts-three">
      <div>
        <dt>Length, rounded up</dt>
        <dd>{length}</dd>
      </div>
      <div>
        <dt>Weight</dt>
        <dd>{mass}</dd>
      </div>
      <div>
        <dt>To buy</dt>
        <dd>
          {use.balls === null ? (
            <small>balls, once you say below what one has</small>
          ) : (
            `${use.balls} ${use.balls === 1 ? 'ball' : 'balls'}`
          )}
        </dd>
      </div>
    </dl>
  );
}

export function YarnParts(props: {
  readonly facts: PatternFacts;
  readonly use: YarnUse;
  readonly units: Units;
}) {
  const { facts, use, units } = props;
  const { stripeRounds, mainColour, stripeColour } = usePage((state) => state.preferences);
  const parts: readonly (readonly [string, number])[] = [
    [`Fabric, ${use.stitches.toLocaleString('en')} stitches`, use.fabricM],
    [facts.plan.ending === 'bound-off' ? 'Cast-on and bind-off' : 'Cast-on', use.castOnM],
    [`${capital(numberWord(use.ends))} ends to weave in`, use.tailsM],
    ['Seam', use.seamM],
    ['Allowance', use.allowanceM],
  ];
  // What the plan tells of colours goes before the page's own stripes.
  const stripe = facts.plan.colours ? 0 : stripeShare(facts.plan, stripeRounds);
  const colours: readonly (readonly [string, number])[] =
    stripe > 0
      ? [
          [colourName(mainColour).toLowerCase(), use.lengthM * (1 - stripe)],
          [colourName(stripeColour).toLowerCase(), use.lengthM * stripe],
        ]
      : use.colours.map(({ colour, lengthM }) => [
          inTerms(colourInWords(colour), facts.terms, ownWords(facts.plan)),
          lengthM,
        ]);
  return (
    <>
      <table className="rounds-table">
        <tbody>
          {parts
            .filter(([, metres]) => metres > 0)
            .map(([name, metres]) => (
              <tr key={name}>
                <td>{name}</td>
                <td>{yarnPartWords(metres, unitOf(units))}</td>
              </tr>
            ))}
          <tr className="total">
            <td>Together</td>
            <td>{yarnPartWords(use.lengthM, unitOf(units))}</td>
          </tr>
          {colours.map(([name, metres]) => (
            <tr key={name}>
              <td>of which {name}</td>
              <td>{yarnPartWords(metres, unitOf(units))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">{use.origin}.</p>
    </>
  );
}
