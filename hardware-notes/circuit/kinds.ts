import { terminals, type Kind } from './component';

/**
 * Terminals of the types that the parts list names. Sources beside each; "symbol library" is the public symbol library of a
 * free board program (state of October 2020), read for its pin numbers. Compare with the data sheet of the part you buy.
 */

/** Source: symbol library (the usual quad amplifier). */
const quadAmplifier =
  '1 OUTa o, 2 −a i, 3 +a i, 4 V+ s, 5 +b i, 6 −b i, 7 OUTb o, 8 OUTc o, 9 −c i, 10 +c i, 11 V− s, 12 +d i, 13 −d i, 14 OUTd o';

export const kinds = {
  quadAmplifier: {
    type: 'MCP6V69',
    footprint: 'Package_SO:TSSOP-14_4.4x5mm_P0.65mm',
    terminals: terminals(quadAmplifier),
  },
  /** Source: symbol library, MCP6V67. */
  dualAmplifier: {
    type: 'MCP6V67',
    footprint: 'Package_SO:MSOP-8_3x3mm_P0.65mm',
    terminals: terminals('1 OUTa o, 2 −a i, 3 +a i, 4 V− s, 5 +b i, 6 −b i, 7 OUTb o, 8 V+ s'),
  },
  /** Source: from memory; the data sheet's text was read without its drawings. */
  quadComparator: {
    type: 'MCP6549',
    footprint: 'Package_DIP:DIP-14_W7.62mm',
    terminals: terminals(
      '1 OUTa d, 2 −a i, 3 +a i, 4 V+ s, 5 +b i, 6 −b i, 7 OUTb d, 8 OUTc d, 9 −c i, 10 +c i, 11 V− s, 12 +d i, 13 −d i, 14 OUTd d',
    ),
  },
  /** Source: data sheet of the ADS122C04, pin functions (column PW) in its edition JAJSF20B, and table of addresses. */
  converter: {
    type: 'ADS122C04IPW',
    footprint: 'Package_SO:TSSOP-16_4.4x5mm_P0.65mm',
    terminals: terminals(
      '1 A0 i, 2 A1 i, 3 RESET-N i, 4 DGND s, 5 AVSS s, 6 IN3 i, 7 IN2 i, 8 REF− i, 9 REF+ i, 10 IN1 i, 11 IN0 i, 12 AVDD s, 13 DVDD s, 14 READY d, 15 SDA b, 16 SCL i',
    ),
  },
  /** Source: symbol library, REF5025; data sheet of its automotive edition (SBOS456H), pin functions. */
  reference: {
    type: 'REF5025AID',
    footprint: 'Package_SO:SOIC-8_3.9x4.9mm_P1.27mm',
    terminals: terminals('1 DNC n, 2 IN s, 3 TEMP n, 4 GND s, 5 TRIM n, 6 OUT w, 7 NC n, 8 DNC n'),
  },
  /** Source: symbol library, 74LS27. */
  tripleNor: {
    type: '74HC27',
    footprint: 'Package_DIP:DIP-14_W7.62mm',
    terminals: terminals(
      '1 Aa i, 2 Ba i, 13 Ca i, 12 Ya o, 3 Ab i, 4 Bb i, 5 Cb i, 6 Yb o, 9 Ac i, 10 Bc i, 11 Cc i, 8 Yc o, 7 GND s, 14 VCC s',
    ),
  },
  /** Source: symbol library, 4002: the 74HC4002 has the same pins. */
  dualNor: {
    type: '74HC4002',
    footprint: 'Package_DIP:DIP-14_W7.62mm',
    terminals: terminals(
      '2 Aa i, 3 Ba i, 4 Ca i, 5 Da i, 1 Ya o, 9 Ab i, 10 Bb i, 11 Cb i, 12 Db i, 13 Yb o, 6 NC n, 8 NC n, 7 GND s, 14 VCC s',
    ),
  },
  /** Source: symbol library, 74HC123: the 423 has the same pins (data sheet of the 74HC423) but is not fired by its clear input. */
  oneShot: {
    type: '74HC423',
    footprint: 'Package_DIP:DIP-16_W7.62mm',
    terminals: terminals(
      '1 FIRE↓a i, 2 FIRE↑a i, 3 CLEARa i, 4 Q̅a n, 13 Qa o, 14 Ca p, 15 RCa p, 9 FIRE↓b i, 10 FIRE↑b i, 11 CLEARb i, 12 Q̅b n, 5 Qb o, 6 Cb p, 7 RCb p, 8 GND s, 16 VCC s',
    ),
  },
  /** Source: data sheet SLLSEP3G, pin functions, columns D and DWV of the ISO7721. */
  isolator: {
    type: 'ISO7721DWV',
    footprint: 'Package_SO:SOIC-8_7.5x5.85mm_P1.27mm',
    terminals: terminals('1 VDD1 s, 2 OUT A o, 3 IN B i, 4 GND1 s, 5 GND2 s, 6 OUT B o, 7 IN A i, 8 VDD2 s'),
  },
  /** Source: symbol library, MCP120, bond-out D. */
  supervisor: {
    type: 'MCP120-450DI/TO',
    footprint: 'Package_TO_SOT_THT:TO-92_Inline',
    terminals: terminals('1 RESET-N d, 2 VDD s, 3 GND s'),
  },
  /** Source: symbol library, the same maker's SIP-8 types; from memory that the 9 W type keeps them. */
  isolatedSupply: {
    type: 'TMR 9-2411WI',
    footprint: 'Converter_DCDC:Converter_DCDC_TRACO_TMR-xxxx_THT',
    terminals: terminals('1 IN − s, 2 IN + s, 3 REMOTE n, 5 NC n, 6 OUT + w, 7 OUT − w, 8 NC n'),
  },
  /** Source: data sheet of the TN0106: order of the leads S, G, D. */
  nChannel: {
    type: 'TN0106N3',
    footprint: 'Package_TO_SOT_THT:TO-92_Inline',
    terminals: terminals('1 S p, 2 G i, 3 D p'),
  },
  /** Source: symbol library, AO3401A. */
  pChannel: {
    type: 'AO3401A',
    footprint: 'Package_TO_SOT_SMD:SOT-23',
    terminals: terminals('1 G i, 2 S p, 3 D p'),
  },
  /** Source: from memory (the usual power transistor in SO-8). */
  pChannelLow: {
    type: 'FDS6679AZ',
    footprint: 'Package_SO:SOIC-8_3.9x4.9mm_P1.27mm',
    terminals: terminals('1 S p, 2 S p, 3 S p, 4 G i, 5 D p, 6 D p, 7 D p, 8 D p'),
  },
  /** Source: symbol library, IRF9540N. */
  pChannelInput: {
    type: 'IRF9540N',
    footprint: 'Package_TO_SOT_THT:TO-220-3_Vertical',
    terminals: terminals('1 G i, 2 D p, 3 S p'),
  },
  /** Source: symbol library and data sheet of the BAV199: one diode from 1 to 3, the other from 3 to 2. */
  clampDiodes: {
    type: 'BAV199',
    footprint: 'Package_TO_SOT_SMD:SOT-23',
    terminals: terminals('1 A p, 2 K p, 3 MID p'),
  },
  /** Source: symbol library, G6S-2: 4 and 9 common, 5 and 8 make, 3 and 10 break. */
  signalRelay: {
    type: 'G6S-2 DC5',
    footprint: 'Relay_THT:Relay_DPDT_Omron_G6S-2',
    terminals: terminals(
      '1 COIL+ p, 12 COIL− p, 4 COM p, 9 COM p, 5 MAKE p, 8 MAKE p, 3 BREAK n, 10 BREAK n',
    ),
  },
  /** Its terminals by what they do: the data sheet was read without its drawings. */
  outputRelay: {
    type: 'PA1a-5V',
    terminals: terminals('A1 COIL+ p, A2 COIL− p, 13 COM p, 14 MAKE p'),
  },
  /** Source: pin numbers of the usual carrier, from memory. */
  controller: {
    type: 'Raspberry Pi Pico',
    terminals: terminals(
      '1 GP0 o, 2 GP1 i, 3 GND s, 4 GP2 o, 5 GP3 o, 6 GP4 o, 7 GP5 o, 8 GND s, 9 GP6 o, 10 GP7 o, 11 GP8 o, 12 GP9 o, 13 GND s, 14 GP10 o, 15 GP11 o, 16 GP12 o, 17 GP13 o, 18 GND s, 19 GP14 o, 20 GP15 o, 21 GP16 o, 22 GP17 o, 23 GND s, 24 GP18 o, 25 GP19 i, 26 GP20 b, 27 GP21 o, 28 GND s, 29 GP22 i, 30 RUN n, 31 GP26 o, 32 GP27 o, 33 GND s, 34 GP28 i, 35 ADC-REF n, 36 3V3 OUT w, 37 3V3-EN n, 38 GND s, 39 VSYS s, 40 VBUS n',
    ),
  },
  /** A module of any maker: by name, not by number. */
  bridge: {
    type: 'USB to serial module, 3.3 V',
    terminals: terminals('1 3V3 OUT w, 2 TXD o, 3 RXD i, 4 GND s, 5 VBUS s, 6 D+ b, 7 D− b, 8 SHIELD p'),
  },
  usbSocket: {
    type: 'USB socket of the module',
    terminals: terminals('1 VBUS w, 2 D− b, 3 D+ b, 4 GND p, 5 SHIELD p'),
  },
  fourPole: { type: 'socket, 4 poles', terminals: terminals('1 FORCE p, 2 FORCE p, 3 SENSE p, 4 FREE n') },
  sensePole: { type: 'socket, 1 pole', terminals: terminals('1 SENSE p') },
  supplyPoles: { type: 'socket, 2 poles', terminals: terminals('1 + p, 2 − p') },
  clip: { type: 'clip', terminals: terminals('1 JAW p') },
  post: { type: 'post', terminals: terminals('1 POST p') },
} as const satisfies Readonly<Record<string, Kind>>;
