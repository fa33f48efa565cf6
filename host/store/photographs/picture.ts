/** A picture with nothing beside it: no place, no time, no camera, no words. */
export type PlainPicture = {
  readonly kind: 'jpeg' | 'png';
  readonly bytes: Buffer;
  readonly widthPixel: number;
  readonly heightPixel: number;
};

/** Why a file is no picture that is kept. */
export type Spoilt = { readonly kind: 'spoilt'; readonly why: string };
export const spoilt = (why: string): Spoilt => ({ kind: 'spoilt', why });
