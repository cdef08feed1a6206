/** Yarn colours: one yarn, two in stripes, or those that the plan names. */
import { Popover } from 'radix-ui';
import type { ReactNode } from 'react';
import { planShades } from '../../paper/yarn-shades.ts';
import { setPreference, usePage } from '../state/page-store.ts';
import { SPINS, YARNS } from '../state/preferences.ts';
import { type ColourChoice, shadeChoice } from '../state/square-colours.ts';

export function YarnMenu() {
  const preferences = usePage((state) => state.preferences);
  const plan = usePage((state) => state.laid?.plan ?? state.plan);
  const shades = plan ? planShades(plan, shadeChoice(preferences)) : new Map<string, string>();
  const named = [...shades].map(([colour, shade]) => ({ colour, shade }));
  return (
    <YarnColours
      name="Yarn colours"
      words="Colours"
      colours={preferences}
      named={named}
      disabled={preferences.colourMode !== 'fabric'}
      onChoose={setPreference}
      onChooseNamed={(colour, shade) =>
        setPreference({ namedYarns: { ...preferences.namedYarns, [colour]: shade } })
      }
    >
      <SpinChoice />
    </YarnColours>
  );
}

const WHY_NOT = 'Yarn colours show where the fabric is coloured by “Yarn”';

/** A button with the colours on it, and the choice behind it. */
export function YarnColours(props: {
  readonly name: string;
  /** Beside the colours where there is room. */
  readonly words?: string;
  readonly colours: ColourChoice;
  /** Colours that the plan names for its rounds: they go before the others. */
  readonly named?: readonly { readonly colour: string; readonly shade: string }[];
  readonly disabled?: boolean;
  readonly onChoose: (change: Partial<ColourChoice>) => void;
  readonly onChooseNamed?: (colour: string, shade: string) => void;
  /** More that can be chosen, after the yarn's colour. */
  readonly children?: ReactNode;
}) {
  const { name, words, colours, named = [], disabled = false, onChoose } = props;
  const { stripeRounds } = colours;
  const [mainColour, second] =
    named.length > 0
      ? [named[0].shade, named[1]?.shade ?? null]
      : [colours.mainColour, stripeRounds > 0 ? colours.stripeColour : null];
  return (
    <Popover.Root>
      <Popover.Trigger
        className="button button-small"
        aria-label={name}
        title={disabled ? WHY_NOT : name}
        aria-disabled={disabled || undefined}
        aria-description={disabled ? WHY_NOT : undefined}
        onClick={(event) => disabled && event.preventDefault()}
      >
        <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
          <circle cx="8" cy="8" r="7" fill={mainColour} stroke="var(--line-strong)" />
          {second && <path d="M1 8a7 7 0 0 0 14 0z" fill={second} />}
        </svg>
        {words && <span className="wide-only">{words}</span>}
      </Popover.Trigger>
      <Popover.Portal>
        <Popover.Content
          className="popover"
          aria-label={name}
          sideOffset={6}
          align="end"
          collisionPadding={8}
        >
          {named.length > 0 ? (
            <>
              {named.map(({ colour, shade }) => (
                <Swatches
                  key={colour}
                  name={`Yarn ${colour}`}
                  chosen={shade}
                  onChoose={(chosen) => props.onChooseNamed?.(colour, chosen)}
                />
              ))}
              {props.children}
              <p className="soft">The plan tells in which of them every round is worked.</p>
            </>
          ) : (
            <OwnColours colours={colours} onChoose={onChoose}>
              {props.children}
            </OwnColours>
          )}
        </Popover.Content>
      </Popover.Portal>
    </Popover.Root>
  );
}

/** One yarn or two in stripes, where the plan says nothing of colours. */
function OwnColours(props: {
  readonly colours: ColourChoice;
  readonly onChoose: (change: Partial<ColourChoice>) => void;
  readonly children?: ReactNode;
}) {
  const { colours, onChoose } = props;
  const { mainColour, stripeColour, stripeRounds } = colours;
  return (
    <>
      <Swatches
        name="Yarn"
        chosen={mainColour}
        onChoose={(colour) => onChoose({ mainColour: colour })}
      />
      {props.children}
      <div className="field">
        <label htmlFor="stripe-rounds">Rounds in each stripe (0: no stripes)</label>
        <input
          id="stripe-rounds"
          type="number"
          min={0}
          max={20}
          value={stripeRounds}
          onChange={(event) => {
            const rounds = Math.round(Number(event.target.value));
            if (rounds >= 0 && rounds <= 20) onChoose({ stripeRounds: rounds });
          }}
        />
      </div>
      {stripeRounds > 0 && (
        <Swatches
          name="Second yarn"
          chosen={stripeColour}
          onChoose={(colour) => onChoose({ stripeColour: colour })}
        />
      )}
    </>
  );
}

function SpinChoice() {
  const spin = usePage((state) => state.preferences.spin);
  return (
    <div className="field">
      <label htmlFor="yarn-spin">Spun</label>
      <select
        id="yarn-spin"
        className="button button-small"
        value={spin}
        onChange={(event) => {
          const chosen = SPINS.find((entry) => entry.spin === event.target.value);
          if (chosen) setPreference({ spin: chosen.spin });
        }}
      >
        {SPINS.map((entry) => (
          <option key={entry.spin} value={entry.spin}>
            {entry.name}
          </option>
        ))}
      </select>
    </div>
  );
}

function Swatches(props: {
  readonly name: string;
  readonly chosen: string;
  readonly onChoose: (colour: string) => void;
}) {
  const { name, chosen, onChoose } = props;
  return (
    <>
      <div className="field">
        <span>{name}</span>
        <input
          type="color"
          aria-label={`${name}: any colour`}
          value={chosen}
          onChange={(event) => onChoose(event.target.value)}
        />
      </div>
      <div className="swatches" role="radiogroup" aria-label={name}>
        {YARNS.map((yarn) => (
          // biome-ignore lint/a11y/useSemanticElements: a round colour chip, not a native radio
          <button
            key={yarn.colour}
            type="button"
            role="radio"
            aria-checked={yarn.colour === chosen}
            aria-label={yarn.name}
            title={yarn.name}
            className="swatch"
            ref={(element) => {
              if (element) element.style.background = yarn.colour;
            }}
            onClick={() => onChoose(yarn.colour)}
          />
        ))}
      </div>
    </>
  );
}
