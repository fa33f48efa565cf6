/* oxlint-disable typescript/consistent-type-imports -- a declaration of a foreign module cannot import */
// What the runtime of the microcontroller offers, typed as the firmware knows it. Only board/pico/main.ts sees these.

declare module 'embedded:io/digital' {
  const Digital: import('../../ecma419').IoClasses['Digital'];
  export { Digital as default };
}

declare module 'embedded:io/digitalbank' {
  const DigitalBank: import('../../ecma419').IoClasses['DigitalBank'];
  export { DigitalBank as default };
}

declare module 'embedded:io/analog' {
  const Analog: import('../../ecma419').IoClasses['Analog'];
  export { Analog as default };
}

declare module 'embedded:io/i2c' {
  const I2C: import('../../ecma419').IoClasses['I2C'];
  export { I2C as default };
}

declare module 'embedded:io/serial' {
  const Serial: import('../../ecma419').IoClasses['Serial'];
  export { Serial as default };
}

declare module 'timer' {
  const Timer: {
    set(callback: () => void, delayMs: number): unknown;
    clear(timer: unknown): void;
  };
  export { Timer as default };
}

declare module 'time' {
  const Time: { readonly ticks: number };
  export { Time as default };
}

/** Functions of the runtime and of the chip's library in C, as manifest.json names them; a result of 0 means it failed. */
declare module 'mc/ffi' {
  class ChipFunctions {
    modSPIRead(offset: number, byteLength: number, into: ArrayBuffer): number;
    modSPIWrite(offset: number, byteLength: number, from: ArrayBuffer): number;
    modSPIErase(offset: number, byteLength: number): number;
    pico_get_unique_board_id(into: ArrayBuffer): void;
    get_rand_32(): number;
  }
  export { ChipFunctions as default };
}

declare module 'needlewright-box' {
  export const Box: typeof import('../../main').Box;
}
