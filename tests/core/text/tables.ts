/**
 * Tables as people have them: a spreadsheet's export, a data sheet's text, a notebook, a mail. Each is read by the page
 * and by the command. The ohms of the first tables follow a textbook thermistor (R25 1000 ohm, B 3800 K, rounded);
 * formats are common practice, no source.
 */
export type TableCase = {
  readonly name: string;
  readonly text: string;
  /** Points in the table's unit; left out where the whole table is asked about or refused. */
  readonly points?: readonly (readonly [value: number, ohm: number])[];
  readonly unit?: string;
  /** Rows that are told by themselves. */
  readonly wrongRows?: readonly number[];
  /** Code of what is wrong with the whole table. */
  readonly code?: string;
  /** Units that are offered as an answer. */
  readonly ask?: readonly string[];
};

const IN_C = [
  [20, 1243],
  [40, 543.1],
  [60, 262.2],
  [80, 137.9],
] as const;
const rows = (part: string, change: (value: number, ohm: number) => readonly [string, string]): string =>
  IN_C.map(([value, ohm]) => change(value, ohm).join(part)).join('\n');
const plain = (value: number, ohm: number): readonly [string, string] => [String(value), String(ohm)];
const comma = (value: number, ohm: number): readonly [string, string] => [
  String(value),
  String(ohm).replace('.', ','),
];
const kilo = (value: number, ohm: number): readonly [string, string] => [
  String(value),
  String(Number((ohm / 1000).toFixed(4))),
];
const kiloComma = (value: number, ohm: number): readonly [string, string] => {
  const [first, second] = kilo(value, ohm);
  return [first, second.replace('.', ',')];
};
const degC = { points: IN_C, unit: 'degC' };
const IN_F = IN_C.map(([value, ohm]) => [value * 1.8 + 32, ohm] as const);

export const tables: readonly TableCase[] = [
  { name: 'contract header, commas', text: `temperature_C,resistance_ohm\n${rows(',', plain)}`, ...degC },
  { name: 'semicolons', text: `temperature_C;resistance_ohm\n${rows(';', plain)}`, ...degC },
  { name: 'tabs', text: `temperature_C\tresistance_ohm\n${rows('\t', plain)}`, ...degC },
  { name: 'spaces', text: `temperature_C resistance_ohm\n${rows('   ', plain)}`, ...degC },
  { name: 'semicolons, decimal commas', text: `Temp °C;R Ohm\n${rows(';', comma)}`, ...degC },
  { name: 'tabs, decimal commas', text: `Temp (°C)\tR (Ω)\n${rows('\t', comma)}`, ...degC },
  {
    name: 'quoted decimal commas between commas',
    text: `"T, °C","R, Ω"\n${rows(',', (v, o) => [`"${v}"`, `"${comma(v, o)[1]}"`])}`,
    ...degC,
  },
  { name: 'spaces, decimal commas', text: `T/°C  R/Ω\n${rows('  ', comma)}`, ...degC },
  {
    name: 'kilohms, semicolons and decimal commas',
    text: `T (°C);R (kohm)\n${rows(';', kiloComma)}`,
    ...degC,
  },
  { name: 'kilohms by their sign', text: `T (°C);R (kΩ)\n${rows(';', kilo)}`, ...degC },
  { name: 'kilohms spelled out', text: `Temperature [°C],Resistance [kilohms]\n${rows(',', kilo)}`, ...degC },
  { name: 'k Ohm apart', text: `temperature deg C\tresistance k Ohm\n${rows('\t', kilo)}`, ...degC },
  {
    name: 'megohms',
    text: 'temperature_C;R (MΩ)\n20;0.2\n40;0.1',
    points: [
      [20, 200_000],
      [40, 100_000],
    ],
    unit: 'degC',
  },
  {
    name: 'shorthand',
    text: 'temperature_C;resistance_ohm\n20;1k2\n40;543R\n60;4R7',
    points: [
      [20, 1200],
      [40, 543],
      [60, 4.7],
    ],
    unit: 'degC',
  },
  {
    name: 'shorthand under a kilohm heading is ohms all the same',
    text: 'temperature_C;R (kΩ)\n20;1k2\n40;543R',
    points: [
      [20, 1200],
      [40, 543],
    ],
    unit: 'degC',
  },
  {
    name: 'units in the cells',
    text: `Temperature;Resistance\n${rows(';', (v, o) => [`${v} °C`, `${o} Ω`])}`,
    ...degC,
  },
  {
    name: 'units in the cells, kilohms',
    text: `Temperature;Resistance\n${rows(';', (v, o) => [`${v} °C`, `${kilo(v, o)[1]} kΩ`])}`,
    ...degC,
  },
  {
    name: 'the unit in the first cell only',
    text: 'Temperature;Resistance\n20 °C;1243 Ω\n40;543.1',
    points: [
      [20, 1243],
      [40, 543.1],
    ],
    unit: 'degC',
  },
  {
    name: 'units in heading and cells alike',
    text: `T (°C);R (Ω)\n${rows(';', (v, o) => [`${v}°C`, `${o} ohm`])}`,
    ...degC,
  },
  {
    name: 'fahrenheit',
    text: `temperature_F,resistance_ohm\n${IN_F.map((pair) => pair.join(',')).join('\n')}`,
    points: IN_F,
    unit: 'degF',
  },
  {
    name: 'fahrenheit by its sign',
    text: `°F;Ω\n${IN_F.map((pair) => pair.join(';')).join('\n')}`,
    points: IN_F,
    unit: 'degF',
  },
  {
    name: 'kelvin',
    text: `T (K);R (Ω)\n${rows(';', (v, o) => [(v + 273.15).toFixed(2), String(o)])}`,
    ...degC,
  },
  {
    name: 'kelvin in the cells',
    text: `Temperature;Ohms\n${rows(';', (v, o) => [`${(v + 273.15).toFixed(2)} K`, String(o)])}`,
    ...degC,
  },
  {
    name: 'a pressure sender in bar',
    text: 'pressure_bar;resistance_ohm\n0;10\n5;95\n10;180',
    points: [
      [0, 10],
      [5, 95],
      [10, 180],
    ],
    unit: 'bar',
  },
  {
    name: 'a pressure sender in psi',
    text: 'psi,ohm\n0,240\n40,103\n80,33',
    points: [
      [0, 240],
      [40, 103],
      [80, 33],
    ],
    unit: 'psi',
  },
  {
    name: 'a pressure sender in kPa, by a heading of other words',
    text: 'Oil line kPa;Sender Ω\n0;10\n500;95',
    points: [
      [0, 10],
      [500, 95],
    ],
    unit: 'kPa',
  },
  {
    name: 'a level sender in percent',
    text: 'level (%),ohm\n0,240\n50,103\n100,33',
    points: [
      [0, 240],
      [50, 103],
      [100, 33],
    ],
    unit: '%',
  },
  {
    name: 'a level sender in parts of the tank',
    text: 'level_fraction;resistance_ohm\n0;240\n0.5;103\n1;33',
    points: [
      [0, 240],
      [50, 103],
      [100, 33],
    ],
    unit: '%',
  },
  {
    name: 'a level sender in litres',
    text: 'fuel (litres)\tR (ohm)\n0\t240\n25\t103',
    points: [
      [0, 240],
      [25, 103],
    ],
    unit: 'L',
  },
  {
    name: 'a level sender in US gallons',
    text: 'fuel (US gal);ohm\n0;240\n10;33',
    points: [
      [0, 240],
      [10, 33],
    ],
    unit: 'US gal',
  },
  {
    name: 'a level sender in imperial gallons',
    text: 'level_imp_gal;resistance_ohm\n0;240\n10;33',
    points: [
      [0, 240],
      [10, 33],
    ],
    unit: 'imp gal',
  },
  {
    name: 'percent signs in the cells',
    text: 'level;ohm\n0 %;240\n100 %;33',
    points: [
      [0, 240],
      [100, 33],
    ],
    unit: '%',
  },
  {
    name: 'the resistance first',
    text: `Resistance (ohm);Temp (°C)\n${IN_C.map(([v, o]) => `${o};${v}`).join('\n')}`,
    ...degC,
  },
  {
    name: 'a column of numbers before',
    text: `No.;T (°C);R (Ω)\n${IN_C.map(([v, o], index) => `${index + 1};${v};${o}`).join('\n')}`,
    ...degC,
  },
  {
    name: 'a column of remarks behind',
    text: `T (°C);R (Ω);note\n${IN_C.map(([v, o]) => `${v};${o};stirred`).join('\n')}`,
    ...degC,
  },
  {
    name: 'remarks, blank lines, another line end',
    text: `# bench 2\r\n\r\ntemperature_C;resistance_ohm\r\n${rows(';', plain).replaceAll('\n', '\r\n')}\r\n# end\r\n`,
    ...degC,
  },
  {
    name: 'a remark behind the figures',
    text: 'temperature_C;resistance_ohm\n20;1243 # stirred\n40;543.1',
    points: [
      [20, 1243],
      [40, 543.1],
    ],
    unit: 'degC',
  },
  { name: 'a byte order mark', text: `\ufefftemperature_C,resistance_ohm\n${rows(',', plain)}`, ...degC },
  {
    name: 'another language, known by its units',
    text: `Temperatur °C;Widerstand Ω\n${rows(';', comma)}`,
    ...degC,
  },
  {
    name: 'thousands by comma, told by their points',
    text: 'temperature_C\tresistance_ohm\n0\t3,245.5\n20\t1,243\n40\t543.1',
    points: [
      [0, 3245.5],
      [20, 1243],
      [40, 543.1],
    ],
    unit: 'degC',
  },
  {
    name: 'thousands by point, decimal commas',
    text: 'temperature_C;resistance_ohm\n0;3.245,5\n40;543,1',
    points: [
      [0, 3245.5],
      [40, 543.1],
    ],
    unit: 'degC',
  },
  {
    name: 'thousands by space',
    text: 'temperature_C;resistance_ohm\n0;3 245\n40;543',
    points: [
      [0, 3245],
      [40, 543],
    ],
    unit: 'degC',
  },
  {
    name: 'thousands by apostrophe',
    text: "temperature_C;resistance_ohm\n0;3'245\n40;543",
    points: [
      [0, 3245],
      [40, 543],
    ],
    unit: 'degC',
  },
  {
    name: 'exponents',
    text: 'temperature_C;resistance_ohm\n0;3.2e3\n40;5.4E2',
    points: [
      [0, 3200],
      [40, 540],
    ],
    unit: 'degC',
  },
  {
    name: 'a real minus sign',
    text: 'temperature_C;resistance_ohm\n−10;5000\n20;1243',
    points: [
      [-10, 5000],
      [20, 1243],
    ],
    unit: 'degC',
  },
  {
    name: 'uncertainties beside',
    text: 'temperature_C;u_temperature_C;resistance_ohm\n20;0.5;1243\n40;0.5;543',
    points: [
      [20, 1243],
      [40, 543],
    ],
    unit: 'degC',
  },
  {
    name: 'rows that stay empty',
    text: 'temperature_C;resistance_ohm\n;\n20;1243\n;;\n40;543',
    points: [
      [20, 1243],
      [40, 543],
    ],
    unit: 'degC',
  },
  {
    name: 'a comma that may be either',
    text: 'temperature_C\tresistance_ohm\n20\t1,243\n40\t543',
    points: [[40, 543]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'a semicolon table whose only comma may be either',
    text: 'temperature_C;resistance_kohm\n20;1,243\n40;0,543',
    points: [
      [20, 1243],
      [40, 543],
    ],
    unit: 'degC',
  },
  {
    name: 'decimal and thousands commas in one table',
    text: 'temperature_C;resistance_ohm\n0;3,245,100\n20;1,243\n40;543,5',
    points: [
      [0, 3_245_100],
      [40, 543.5],
    ],
    unit: 'degC',
    wrongRows: [3],
  },
  {
    name: 'a point among decimal commas',
    text: 'temperature_C;resistance_ohm\n20;1.243\n40;543,1',
    points: [[40, 543.1]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'a word for a number',
    text: 'temperature_C;resistance_ohm\nwarm;1243\n40;543',
    points: [[40, 543]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'what a spreadsheet writes for an error',
    text: 'temperature_C;resistance_ohm\n#N/A;1243\n40;543',
    points: [[40, 543]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'an empty cell',
    text: 'temperature_C;resistance_ohm\n20;\n40;543',
    points: [[40, 543]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'a negative resistance',
    text: 'temperature_C;resistance_ohm\n20;-5\n40;543',
    points: [[40, 543]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'volts among the ohms',
    text: 'temperature_C;resistance_ohm\n20;4 V\n40;543',
    points: [[40, 543]],
    unit: 'degC',
    wrongRows: [2],
  },
  {
    name: 'degrees Celsius and Fahrenheit in one column',
    text: 'Temperature;R (Ω)\n20 °C;1243\n104 °F;543',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['as-written'],
  },
  {
    name: 'a cell that contradicts its heading',
    text: 'T (°C);R (Ω)\n20;1243\n104 °F;543',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['as-written'],
  },
  {
    name: 'ohms and kilohms in one column',
    text: 'T (°C);R\n20;1.243 kΩ\n40;543 Ω',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['as-written'],
  },
  {
    name: 'bare figures among kilohms',
    text: 'T (°C);R\n20;1.243 kΩ\n40;0.543',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['kohm', 'ohm'],
  },
  {
    name: 'kilohms that turn into ohms without a word',
    text: 'T (°C);R (Ω)\n0;3.245\n20;1.243\n40;543\n60;262\n80;138',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['ohm'],
  },
  {
    name: 'a whole table of kilohms under a heading of ohms',
    text: `T (°C);R (Ω)\n${rows(';', kilo)}`,
    code: 'TABLE_UNITS_DIFFER',
    ask: ['kohm', 'ohm'],
  },
  {
    name: 'a whole table of ohms under a heading of kilohms',
    text: `T (°C);R (kΩ)\n${rows(';', plain)}`,
    code: 'TABLE_UNITS_DIFFER',
    ask: ['ohm', 'kohm'],
  },
  {
    name: 'kilohms of a tank under a heading of ohms',
    text: 'level_percent;resistance_ohm\n0;0.24\n50;0.103\n100;0.033',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['kohm', 'ohm'],
  },
  {
    name: 'a tank of 0 to 30 ohms',
    text: 'level_percent;resistance_ohm\n0;0\n50;15\n100;30',
    points: [
      [0, 0],
      [50, 15],
      [100, 30],
    ],
    unit: '%',
  },
  {
    name: 'kelvins under a heading of degC',
    text: 'temperature_C;resistance_ohm\n293;1243\n313;543.1\n333;262.2\n353;137.9',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['K', 'C'],
  },
  {
    name: 'parts of a tank under a heading of percent',
    text: 'level_percent;resistance_ohm\n0;240\n0.5;103\n1;33',
    code: 'TABLE_UNITS_DIFFER',
    ask: ['fraction', 'percent'],
  },
  {
    name: 'thousands by point, and not one figure that tells',
    text: 'temperature_C;resistance_ohm\n-10;9.397\n0;5.970\n20;2.448',
    points: [],
    unit: 'degC',
    wrongRows: [2, 3, 4],
  },
  {
    name: 'three figures behind a point, told to be a point by another figure',
    text: 'temperature_C;resistance_ohm\n20.5;124.301\n40;54.310\n60;26.222',
    points: [
      [20.5, 124.301],
      [40, 54.31],
      [60, 26.222],
    ],
    unit: 'degC',
  },
  {
    name: 'kilohms with three figures behind the point',
    text: 'temperature_C;resistance_kohm\n20;1.243\n30;1.034',
    points: [
      [20, 1243],
      [30, 1034],
    ],
    unit: 'degC',
  },
  {
    name: 'a heading in another language, the units in every cell',
    text: `Temperatur;Widerstand\n${rows(';', (v, o) => [`${v} °C`, `${comma(v, o)[1]} Ω`])}`,
    ...degC,
  },
  {
    name: 'a resistance without a unit',
    text: 'temperature_C;resistance\n20;1.243\n40;0.543',
    code: 'TABLE_UNIT_UNSAID',
    ask: ['ohm', 'kohm', 'Mohm'],
  },
  {
    name: 'a temperature without a unit',
    text: 'temperature;resistance_ohm\n20;1243\n40;543',
    code: 'TABLE_UNIT_UNSAID',
    ask: ['C', 'F', 'K'],
  },
  {
    name: 'a column twice',
    text: 'temperature_C;temp C;resistance_ohm\n20;20;1243',
    code: 'TABLE_SAME_TWICE',
  },
  {
    name: 'two kinds of value',
    text: 'temperature_C;pressure_bar;resistance_ohm\n20;1;1243',
    code: 'TABLE_SAME_TWICE',
  },
  { name: 'no resistance', text: 'temperature_C;note\n20;a', code: 'TABLE_NO_HEADING' },
  {
    name: 'decimal commas between commas',
    text: 'temperature_C,resistance_ohm\n20,5,1243,5',
    code: 'TABLE_DECIMAL_COMMA',
  },
  {
    name: 'a quote that is never closed',
    text: 'temperature_C;resistance_ohm\n"20;1243',
    code: 'TABLE_QUOTE_OPEN',
  },
  { name: 'nothing but a remark', text: '# bath of tuesday\n', code: 'TABLE_EMPTY' },
];
