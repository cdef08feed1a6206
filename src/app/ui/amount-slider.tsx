/** A slider with its name and its value in words. */
import { Slider } from 'radix-ui';
import { useId } from 'react';

export function AmountSlider(props: {
  readonly name: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly words: string;
  readonly onChange: (value: number) => void;
}) {
  const { name, value, min, max, step, words, onChange } = props;
  const id = useId();
  return (
    <div className="close-up-row amount">
      <span id={id}>{name}</span>
      <Slider.Root
        className="slider"
        min={min}
        max={max}
        step={step}
        value={[value]}
        onValueChange={([next]) => onChange(next)}
      >
        <Slider.Track className="slider-track">
          <Slider.Range className="slider-range" />
        </Slider.Track>
        <Slider.Thumb className="slider-thumb" aria-labelledby={id} aria-valuetext={words} />
      </Slider.Root>
      <output>{words}</output>
    </div>
  );
}
