import {
  chainHold,
  converter,
  currentRangeMilliamp,
  deadMan,
  elementLimitMilliwatt,
  elementRiseKelvin,
  elements,
  fourChannelPins,
  hardwareTrip,
  limits,
  meterChannels,
  ohmmeter,
  outputRelay,
  path,
  pins,
  relay,
  worstElementMilliwatt,
} from '../../firmware-ts/board/reference-design';
import { selfTestSteps } from '../../firmware-ts/box/arm';
import { METER_SILENT_MS } from '../../firmware-ts/guard/meter-silent';
import {
  currentAmp,
  faultyCircuits,
  floorOhm,
  hottestElement,
  lowestOhm,
  soundCircuits,
  type Circuit,
} from '../calculations/circuits';
import { holdMs, outputOpensMs, reservoirHoldMs } from '../calculations/chain-hold';
import { coilMillijoule, currentDecayMs } from '../calculations/coil';
import { zeroDriftMicroampPerKelvin } from '../calculations/front-end';
import { guaranteedGapMilliohm, largestRadix, totalMilliohm } from '../calculations/ladder';
import {
  elementNoise,
  ladderNoiseMilliohm,
  liveNoiseOhm,
  loadingMilliohm,
  loadingMismatchMilliohm,
} from '../calculations/meter';
import {
  clampJoule,
  clampPeakAmp,
  loadDumps,
  oneShotMs,
  smallElements,
  suddenShort,
} from '../calculations/protection';
import {
  fuseHeatFraction,
  leastMadeOhm,
  hardwareOnlyMilliwatt,
  pulseAt,
  pulseIntegral,
  pulsedGauges,
  slowPeakAmp,
} from '../calculations/pulses';
import { fixed, ohmText, table, wattText, type Row } from './format';
import { partCountRows, partRows } from './part-rows';
import { partGroups } from './parts';
import { circuitTables } from './tables-circuit';
import { firstBuildTables } from './tables-first-build';
import { stripTables } from './tables-strip';

function pinTable(): string {
  const rows: Row[] = [
    [`GP${pins.serialTransmit}`, 'out', 'serial line to the isolator', 'none'],
    [`GP${pins.serialReceive}`, 'in', 'serial line from the isolator', 'idles high'],
    ...pins.elements.map((gpio, index): Row => [
      `GP${gpio}`,
      'out',
      `K${index + 1}, bit ${index}: high shorts ${elements[index]!.name} (${ohmText(elements[index]!.nominalMilliohm)})`,
      '8.2 kΩ down',
    ]),
    [`GP${pins.limiterBypass}`, 'out', 'K15, bit 14: high bypasses the limiter', '8.2 kΩ down'],
    [`GP${pins.output}`, 'out', 'K16, bit 15: high closes the output', '8.2 kΩ down'],
    [`GP${pins.deadManPulse}`, 'out', 'dead-man pulse, toggled by the main loop', '8.2 kΩ down'],
    [`GP${pins.hardwareTrip}`, 'in', 'TRIP-N, low when the hardware trip has latched', '4.7 kΩ down'],
    [`GP${pins.meterData}`, 'both', 'I²C data of the converters', '4.7 kΩ up'],
    [`GP${pins.meterClock}`, 'out', 'I²C clock of the converters', '4.7 kΩ up'],
    [`GP${pins.meterReady}`, 'in', 'U5 has a result, low', 'the controller’s own, up'],
    [`GP${pins.ohmmeterLow}`, 'out', `ohmmeter, ${ohmmeter.low.microamp} µA`, '100 kΩ down'],
    [`GP${pins.ohmmeterHigh}`, 'out', `ohmmeter, ${ohmmeter.high.microamp / 1000} mA`, '8.2 kΩ down'],
    [`GP${pins.railSense}`, 'analogue in', 'half of the mean of both coil supplies', '10 kΩ down'],
  ];
  return table(['pin', 'direction', 'what', 'pull outside the module'], rows);
}

const hexByte = (value: number): string => `0x${value.toString(16).padStart(2, '0')}`;

/** What a converter must understand: a part with other bytes needs another firmware-ts/meter/converter.ts. */
function converterTable(): string {
  const { addresses, bits, commands, conversionMs, fullScaleMicrovolt, inputSelect, readyBit, register1 } =
    converter;
  const selects = inputSelect.map((select, input) => `${hexByte(select)} input ${input}`).join(', ');
  const rows: Row[] = [
    ['addresses by pins', addresses.map(hexByte).join(' and ')],
    [
      'reset; start one conversion; read the result',
      [commands.reset, commands.start, commands.readData].map(hexByte).join('; '),
    ],
    [
      'write register 0; register 1',
      [commands.writeRegister, commands.writeRegister + 4].map(hexByte).join('; '),
    ],
    [
      'read register 2; the bit that says a result waits',
      `${hexByte(commands.readRegister + 8)}; ${hexByte(readyBit)}`,
    ],
    ['register 0: gain 1, input against input 3', selects],
    [
      'register 1: single shot, external reference, one conversion in less than',
      `${hexByte(register1)}; ${conversionMs} ms`,
    ],
    ['result', `${bits} bits, two's complement, high byte first; full scale ± ${fullScaleMicrovolt / 1e6} V`],
  ];
  return table(['what', 'value'], rows);
}

function channelPinTable(): string {
  const list = (gpios: readonly number[]): string => gpios.map((gpio) => `GP${gpio}`).join(', ');
  return table(
    ['pins', 'what'],
    [
      [
        list([fourChannelPins.serialTransmit, fourChannelPins.serialReceive]),
        'serial line, as on one channel',
      ],
      [
        list([fourChannelPins.spiClock, fourChannelPins.spiOut, fourChannelPins.spiIn]),
        'SPI clock, data out, data in: relay registers',
      ],
      [list(fourChannelPins.select), 'register select of channels 0 to 3'],
      [list(fourChannelPins.deadManPulse), 'dead-man pulse of channels 0 to 3'],
      [list(fourChannelPins.hardwareTrip), 'hardware trip of channels 0 to 3'],
      [
        list([fourChannelPins.meterData, fourChannelPins.meterClock]),
        'I²C to the channel switch and the converters',
      ],
      [list([fourChannelPins.meterReset]), 'reset of the channel switch'],
    ],
  );
}

function elementTable(): string {
  const rows = elements.map((element): Row => {
    const worstMilliwatt = worstElementMilliwatt(element, false);
    return [
      element.name,
      ohmText(element.nominalMilliohm),
      wattText(element.ratedMilliwatt),
      fixed(worstMilliwatt / 1000, 2),
      fixed((100 * worstMilliwatt) / element.ratedMilliwatt, 0),
      fixed(worstElementMilliwatt(element, true) / 1000, 2),
      fixed(elementLimitMilliwatt(element) / 1000, 2),
      fixed(elementRiseKelvin(element, worstMilliwatt), 0),
      fixed(hardwareOnlyMilliwatt(element) / 1000, 2),
      fixed((100 * hardwareOnlyMilliwatt(element)) / element.ratedMilliwatt, 0),
    ];
  });
  return table(
    [
      'element',
      'value',
      'rating',
      'worst at the limits, W',
      '% of rating',
      'worst with limiter in, W',
      'guard’s limit, W',
      'rise at worst, K',
      'without firmware, W',
      '% of rating',
    ],
    rows,
  );
}

function circuitRow(circuit: Circuit): Row {
  const hottest = hottestElement(circuit);
  const lowest = lowestOhm(circuit);
  return [
    circuit.name,
    fixed(circuit.openVolt, 1),
    fixed(circuit.sourceOhm, 1),
    fixed(1000 * currentAmp(circuit, 10), 0),
    lowest <= floorOhm() ? 'none' : fixed(lowest, 1),
    `${hottest.element.name}, ${fixed(hottest.watt, 2)} W`,
  ];
}

function circuitTable(): string {
  return table(
    ['circuit', 'open V', 'source Ω', 'mA at 10 Ω', 'least Ω the current limit allows', 'hottest element'],
    [...soundCircuits, ...faultyCircuits].map(circuitRow),
  );
}

function ladderTable(): string {
  return table(
    ['figure', 'value'],
    [
      ['elements', elements.length],
      ['sum of nominal values', `${fixed(totalMilliohm / 1000, 2)} Ω`],
      ['largest ratio of neighbours', fixed(largestRadix(), 2)],
      ['largest possible gap, parts of 0.1 %', `${fixed(guaranteedGapMilliohm(0.1) / 1000, 3)} Ω`],
      ['largest possible gap, parts of 1 %', `${fixed(guaranteedGapMilliohm(1) / 1000, 3)} Ω`],
      ['largest possible gap, parts of 2 %', `${fixed(guaranteedGapMilliohm(2) / 1000, 3)} Ω`],
      ['path with every element shorted, contacts new', `${fixed(floorOhm(), 2)} Ω`],
      [
        'path with every element shorted, contacts at end of life',
        `${fixed(floorOhm(path.contact.maxMilliohm), 2)} Ω`,
      ],
    ],
  );
}

function shortTable(): string {
  const rows = smallElements.map((element): Row => {
    const fault = suddenShort(element);
    return [
      element.name,
      fixed(fault.amp, 1),
      fixed(fault.watt, 0),
      fixed(fault.fuseMs, 1),
      fixed(fault.openMs, 0),
      fixed(fault.joule, 2),
    ];
  });
  return table(
    [
      'only element in the path',
      'A',
      'W in it',
      'fuse melts after, ms',
      'K16 open after, ms',
      'J until K16 is open',
    ],
    rows,
  );
}

function loadDumpTable(): string {
  const series: readonly (readonly [string, number])[] = [
    ['nothing', 0],
    ['12 Ω heater', 12],
    ['45 Ω of coils', 45],
  ];
  const rows = loadDumps.flatMap((dump) =>
    series.map(([name, ohm]): Row => [
      `${dump.peakVolt} V, ${dump.sourceOhm} Ω, ${dump.durationMs} ms`,
      name,
      fixed(clampPeakAmp(dump, ohm), 1),
      fixed(clampJoule(dump, ohm), 1),
    ]),
  );
  return table(['load dump', 'in series', 'peak A', 'J into a 36 V clamp'], rows);
}

function deadManTable(): string {
  return table(
    ['corner', 'ms'],
    [
      ['factor −10 %, R −1 %, C −5 %', fixed(oneShotMs(-0.1, -0.01, -0.05), 0)],
      ['nominal', fixed(oneShotMs(0, 0, 0), 0)],
      ['factor +10 %, R +1 %, C +5 %', fixed(oneShotMs(0.1, 0.01, 0.05), 0)],
      ['stated', `${deadMan.minMs} to ${deadMan.maxMs}`],
    ],
  );
}

function noiseTable(): string {
  const rows = elements.map((element): Row => {
    const noise = elementNoise(element);
    return [
      element.name,
      ohmText(element.nominalMilliohm),
      noise.microamp >= 1000 ? `${noise.microamp / 1000} mA` : `${noise.microamp} µA`,
      fixed(noise.milliohm, 1),
      fixed(loadingMilliohm(element.nominalMilliohm), 1),
    ];
  });
  const whole: Row = [
    'all',
    ohmText(totalMilliohm),
    '',
    fixed(ladderNoiseMilliohm(), 1),
    fixed(loadingMilliohm(totalMilliohm), 0),
  ];
  const apart = loadingMismatchMilliohm();
  const sum: Row = ['sum of the rows against the whole', '', '', '', fixed(apart, 0)];
  return table(
    ['element', 'value', 'current', 'noise, mΩ', 'pulled down by the divider, mΩ'],
    [...rows, whole, sum],
  );
}

function liveTable(): string {
  const settings = [10, 40, 180, 700];
  const header = ['circuit', ...settings.map((ohm) => `at ${ohm} Ω`)];
  const rows = soundCircuits.map((circuit): Row => [
    circuit.name,
    ...settings.map((ohm) => fixed(1000 * liveNoiseOhm(circuit.openVolt, circuit.sourceOhm, ohm), 1)),
  ]);
  return table(header, rows);
}

function coilTable(): string {
  const clamps: readonly (readonly [string, number])[] = [
    ['plain diode', 0.7],
    ['diode and 12 V suppressor (D19)', 14],
    ['supply opens first, D18 or D37', 14],
  ];
  const rows = clamps.map(([name, volt]): Row => [
    name,
    fixed(currentDecayMs(relay.coilOhm, volt), 2),
    fixed(currentDecayMs(outputRelay.coilOhm, volt), 2),
  ]);
  return table(
    ['clamp', 'K1–K15, ms', 'K16, ms'],
    [...rows, ['energy of all coils together, mJ', fixed(coilMillijoule(), 2), '']],
  );
}

function limitTable(): string {
  return table(
    ['limit', 'value'],
    [
      ['current, root mean square', `${limits.currentMaxMilliamp} mA`],
      ['peak of a stabiliser’s pulses, thermal gauge only', `${limits.pulsePeakMaxMilliamp} mA`],
      [
        'hardware trip at once',
        `${hardwareTrip.atOnce.minMilliamp} to ${hardwareTrip.atOnce.maxMilliamp} mA, either way`,
      ],
      [
        'hardware trip, slow',
        `${hardwareTrip.slow.minMilliamp} to ${hardwareTrip.slow.maxMilliamp} mA behind ${hardwareTrip.slow.timeConstantMs} ms, either way`,
      ],
      ['meter range', `±${currentRangeMilliamp} mA`],
      ['terminal and feed voltage', `${limits.supplyMaxMillivolt / 1000} V`],
      ['power in the box’s path', `${limits.totalPowerMaxMilliwatt / 1000} W`],
      ['settings', `${limits.resistanceMinMilliohm / 1000} to ${limits.resistanceMaxMilliohm / 1000} Ω`],
      [`below ${limits.lowResistanceFloorMilliohm / 1000} Ω`, `${limits.lowResistanceMaxMs / 1000} s`],
      ['coil supplies', `${limits.railMinMillivolt / 1000} to ${limits.railMaxMillivolt / 1000} V`],
      ['firmware guard, fault to contact open', `${limits.guardReactionMs} ms`],
      [
        'the same when the meter falls silent',
        `${METER_SILENT_MS + outputRelay.releaseMaxMs} ms and a turn of the firmware`,
      ],
      ['dead-man, last rising edge to K16’s supply down', `${deadMan.minMs} to ${deadMan.maxMs} ms`],
      [
        'chain’s supply after K16’s',
        `${chainHold.minMs} to ${chainHold.maxMs} ms, never later than ${chainHold.latestMs}`,
      ],
    ],
  );
}

function relayTable(): string {
  const row = (name: string, one: typeof relay | typeof outputRelay): Row => [
    name,
    `${one.operateMinMs} to ${one.operateMaxMs}`,
    `≤ ${one.bounceMaxMs}`,
    `${one.releaseMinMs} to ${one.releaseMaxMs}`,
    one.coilMilliamp,
  ];
  return table(
    ['relay', 'operate, ms', 'bounce, ms', 'release with clamp, ms', 'coil, mA'],
    [row('K1–K15', relay), row('K16', outputRelay)],
  );
}

function channelTable(): string {
  return table(
    ['channel', 'converter', 'input', 'law'],
    Object.entries(meterChannels).map(([name, channel]): Row => [
      name,
      `0x${(converter.addresses[channel.converter] ?? 0).toString(16)}`,
      channel.input,
      name === 'current'
        ? `A = ${channel.scale.toFixed(4)} × V`
        : `V = ${channel.scale} × V + ${channel.offset / 1e6}`,
    ]),
  );
}

const selfTestMeaning: Readonly<Record<keyof typeof selfTestSteps, string>> = {
  railFallsWithoutPulses:
    'a coil supply stays up without pulses: Q17, Q18, Q26 or Q27 shorted, or U8 fires by itself. The dead-man does not protect: stop',
  railRisesWithPulses:
    'a coil supply does not come up: U8, Q17, Q18, Q26, Q27, U14, 5 VL, or a latched hardware trip',
  meterReads: 'no readings: converter, I²C wiring, reference',
  comparatorIsQuiet: 'the hardware trip is latched with no current: U3, U7, U9, R38 to R45',
  outputIsOpen: 'current although the output is open: K16 welded, or the zero of the current channel is off',
};

function selfTestTable(): string {
  return table(
    ['step', 'when it fails'],
    Object.entries(selfTestMeaning).map(([name, meaning]): Row => [
      Object.entries(selfTestSteps).find(([step]) => step === name)?.[1] ?? 'retired',
      meaning,
    ]),
  );
}

function partTable(): string {
  const header = ['reference', 'number', 'part', 'a type that fits', 'its data sheet', 'why'];
  return partGroups.map(([title, lines]) => `**${title}**\n\n${table(header, partRows(lines))}`).join('\n\n');
}

function pulseTable(): string {
  const rows = pulsedGauges.map(([name, gauge, ohm]): Row => {
    const pulse = pulseAt(gauge, ohm);
    return [
      name,
      fixed(1000 * pulse.peakAmp, 0),
      fixed(1000 * pulse.rootMeanSquareAmp, 0),
      fixed(pulse.onMs, 0),
      fixed(1000 * slowPeakAmp(pulse), 0),
      fixed(pulseIntegral(pulse), 3),
      `${fixed(100 * fuseHeatFraction(pulse), 0)} %`,
      leastMadeOhm(gauge) > 0 ? fixed(leastMadeOhm(gauge), 1) : 'any',
    ];
  });
  return table(
    [
      'circuit',
      'peak, mA',
      'root mean square, mA',
      'on, ms',
      'slow comparator sees at most, mA',
      'I²t of a pulse, A²s',
      'F1’s wire, of melting',
      'least Ω the box makes',
    ],
    rows,
  );
}

function resolutionTable(): string {
  const noiseMicroamp = converter.noiseMicrovoltRms * meterChannels.current.scale;
  const stepMicroamp =
    (converter.fullScaleMicrovolt / 2 ** (converter.bits - 1)) * meterChannels.current.scale;
  const row = (name: string, microamp: number): Row => [
    name,
    `${fixed(microamp, 2)} µA`,
    `${fixed(microamp / 50, 3)} %`,
  ];
  return table(
    ['of the current', 'is', 'of 5 mA'],
    [
      row('one step of the converter', stepMicroamp),
      row('noise of one conversion', noiseMicroamp),
      row('noise of the mean of twelve, as shown to a person', noiseMicroamp / Math.sqrt(12)),
      row('zero, for each kelvin after calibration, at worst', zeroDriftMicroampPerKelvin()),
    ],
  );
}

function chainHoldTable(): string {
  return table(
    ['figure', 'ms'],
    [
      ['second one-shot, factor −10 %, R −1 %, C −5 %', fixed(holdMs(-0.1, -0.01, -0.05), 1)],
      ['nominal', fixed(holdMs(0, 0, 0), 1)],
      ['factor +10 %, R +1 %, C +5 %', fixed(holdMs(0.1, 0.01, 0.05), 1)],
      ['stated', `${chainHold.minMs} to ${chainHold.maxMs}, never later than ${chainHold.latestMs}`],
      ['K16 open after the end of its supply, at the latest', outputOpensMs],
      ['reservoir alone holds every coil of the chain, C52 nominal', fixed(reservoirHoldMs(0, 0), 1)],
      ['the same, C52 −20 %, supervisor −2.5 %', fixed(reservoirHoldMs(-0.2, -0.025), 1)],
    ],
  );
}

/** Every generated table by its name in the documents. */
export function allTables(): ReadonlyMap<string, string> {
  return new Map([
    ['pins', pinTable()],
    ['four-channel-pins', channelPinTable()],
    ['elements', elementTable()],
    ['circuits', circuitTable()],
    ['ladder', ladderTable()],
    ['sudden-short', shortTable()],
    ['load-dump', loadDumpTable()],
    ['dead-man', deadManTable()],
    ['chain-hold', chainHoldTable()],
    ['pulses', pulseTable()],
    ['resolution', resolutionTable()],
    ['noise', noiseTable()],
    ['limits', limitTable()],
    ['live', liveTable()],
    ['coils', coilTable()],
    ['relays', relayTable()],
    ['meter-channels', channelTable()],
    ['parts', partTable()],
    ['part-count', table(['group', 'parts'], partCountRows())],
    ...circuitTables(),
    ...firstBuildTables(),
    ...stripTables(),
    ['converter', converterTable()],
    ['self-test', selfTestTable()],
  ]);
}

/** Puts the current tables between `<!-- table: name -->` and `<!-- end -->`; refuses a name it does not know. */
export function fillTables(document: string, tables: ReadonlyMap<string, string>): string {
  return document.replace(/<!-- table: ([a-z-]+) -->\n[\s\S]*?<!-- end -->/g, (_, name: string) => {
    const text = tables.get(name);
    if (text === undefined)
      throw new Error(`no table is called ${name}; known are ${[...tables.keys()].join(', ')}`);
    return `<!-- table: ${name} -->\n\n${text}\n\n<!-- end -->`;
  });
}
