import type { SoilNumbers } from '@sillwatch/trade';
import { findDay } from '@sillwatch/trade/units';
import { useState } from 'react';
import { recordOfFirm } from '../../api/office.ts';
import type { Me } from '../../api/types.ts';
import { decimalFault, decimalOf, readDecimal } from '../../shared/decimal.ts';
import { Field } from '../../shared/field.tsx';
import { Refusal, useSubmit } from '../../shared/submit.tsx';
import { useWords } from '../../words/index.ts';

interface Props {
  readonly me: Me;
  readonly branch: string;
  /** undefined = off */
  readonly numbers: SoilNumbers | undefined;
}

const METRES_AN_INCH = 0.0254;
const FAHRENHEIT_A_DEGREE = 1.8;

/** Numbers in the units of weather records in the United States; the ledger keeps degrees Celsius and metres. */
export function SoilForm({ me, branch, numbers }: Props) {
  const w = useWords();
  const s = w.desk.soil;
  const [mean, setMean] = useState(numbers === undefined ? '' : text(toFahrenheit(numbers.meanCelsius)));
  const [swing, setSwing] = useState(
    numbers === undefined ? '' : text(numbers.amplitudeCelsius * FAHRENHEIT_A_DEGREE),
  );
  const [coldest, setColdest] = useState(numbers?.coldestOn ?? '');
  const [depth, setDepth] = useState(numbers === undefined ? '' : text(numbers.depthMetres / METRES_AN_INCH));
  const [diffusivity, setDiffusivity] = useState(
    numbers === undefined ? '' : text(numbers.diffusivityMm2PerSecond),
  );
  const [forage, setForage] = useState(
    numbers === undefined ? '' : text(toFahrenheit(numbers.forageFromCelsius)),
  );
  const [source, setSource] = useState(numbers?.source ?? '');
  const [tried, setTried] = useState(false);
  const coldestOn = coldest.trim();
  const isDay = coldestOn === '' || findDay(`2001-${coldestOn}`) !== undefined;
  const save = useSubmit((season: SoilNumbers | null) =>
    recordOfFirm(me, 'soil season set', { branch, season }),
  );
  const number = (label: string, value: string, onType: (value: string) => void, hint?: string) => (
    <Field
      label={label}
      {...(hint === undefined ? {} : { hint })}
      inputMode="decimal"
      required
      value={value}
      error={tried ? decimalFault(value, w) : undefined}
      onChange={(event) => onType(event.target.value)}
    />
  );
  return (
    <section className="sheet">
      <h2>{numbers === undefined ? s.enter : s.change}</h2>
      <form
        className="form form-columns"
        onSubmit={(event) => {
          event.preventDefault();
          setTried(true);
          const isRead = [mean, swing, depth, diffusivity, forage].every((typed) => readDecimal(typed).ok);
          if (!isDay || !isRead) return;
          save.mutate({
            meanCelsius: toCelsius(decimalOf(mean)),
            amplitudeCelsius: rounded(decimalOf(swing) / FAHRENHEIT_A_DEGREE),
            coldestOn,
            depthMetres: rounded(decimalOf(depth) * METRES_AN_INCH),
            diffusivityMm2PerSecond: decimalOf(diffusivity),
            forageFromCelsius: toCelsius(decimalOf(forage)),
            source: source.trim(),
          });
        }}
      >
        {number(s.mean, mean, setMean, s.meanHint)}
        {number(s.swing, swing, setSwing, s.swingHint)}
        <Field
          label={s.coldest}
          hint={s.coldestHint}
          error={isDay ? undefined : s.coldestWrong}
          required
          value={coldest}
          onChange={(event) => setColdest(event.target.value)}
        />
        {number(s.depthLabel, depth, setDepth)}
        {number(s.diffusivity, diffusivity, setDiffusivity, s.diffusivityHint)}
        {number(s.forage, forage, setForage, s.forageHint)}
        <Field
          label={s.source}
          hint={s.sourceHint}
          required
          value={source}
          onChange={(event) => setSource(event.target.value)}
        />
        <Refusal error={save.error} />
        <div className="buttons">
          <button type="submit" className="button button-main" disabled={save.isPending}>
            {w.desk.office.save}
          </button>
          {numbers !== undefined && (
            <button
              type="button"
              className="button"
              disabled={save.isPending}
              onClick={() => save.mutate(null)}
            >
              {s.turnOff}
            </button>
          )}
        </div>
      </form>
    </section>
  );
}

function toCelsius(fahrenheit: number): number {
  return rounded((fahrenheit - 32) / FAHRENHEIT_A_DEGREE);
}

function toFahrenheit(celsius: number): number {
  return celsius * FAHRENHEIT_A_DEGREE + 32;
}

/** Four decimals: finer than any weather record, and what was typed comes back as it was typed. */
function rounded(value: number): number {
  return Math.round(value * 10_000) / 10_000;
}

function text(value: number): string {
  return String(Math.round(value * 100) / 100);
}
