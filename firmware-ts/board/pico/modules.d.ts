/* eslint-disable @typescript-eslint/consistent-type-imports -- a declaration of a foreign module cannot import */
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

declare module 'preference' {
  const Preference: {
    get(domain: string, key: string): ArrayBuffer | number | string | boolean | undefined;
    set(domain: string, key: string, value: ArrayBuffer | number): void;
  };
  export { Preference as default };
}

declare module 'mc/config' {
  const config: { readonly boxSerial: number };
  export { config as default };
}

declare module 'needlewright-box' {
  export const Box: typeof import('../../main').Box;
}
