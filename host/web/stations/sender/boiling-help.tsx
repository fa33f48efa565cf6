import type { JSX } from 'preact';
import { boilingPoint } from '../../../core/water/boiling';
import { Fold } from '../../parts/fold';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';

const PASCAL_PER_HECTOPASCAL = 100;

/** Boiling water is a thermometer for nothing, once one knows how high one is. */
export function BoilingHelp({ unit }: { readonly unit: string }): JSX.Element {
  const altitude = useNumberDraft('0');
  const pressure = useNumberDraft();
  const question =
    pressure.value !== undefined
      ? { pressurePascal: pressure.value * PASCAL_PER_HECTOPASCAL }
      : { altitudeMetre: altitude.value ?? 0 };
  const boils = boilingPoint(question);
  const words =
    boils.kind === 'refused'
      ? saidRefusal(boils, printed)
      : unit === 'degF'
        ? `${boils.temperatureFahrenheit.toFixed(1)} \u00b0F \u00b1 ${((boils.expandedUncertaintyKelvin * 9) / 5).toFixed(1)} \u00b0F`
        : `${boils.temperatureCelsius.toFixed(1)} \u00b0C \u00b1 ${boils.expandedUncertaintyKelvin.toFixed(1)} \u00b0C`;
  return (
    <Fold line="At what temperature does water boil here?" says={words}>
      <div class="fields">
        <NumberField label="Height above the sea" unit="m" draft={altitude} />
        <NumberField label="or pressure read here now" unit="hPa" draft={pressure} />
      </div>
      <p role="status">
        <strong class="figure">{words}</strong>
      </p>
      <p class="hint">
        Pure water at a rolling boil, the bulb off the bottom of the pan. Coolant boils higher.
      </p>
    </Fold>
  );
}
