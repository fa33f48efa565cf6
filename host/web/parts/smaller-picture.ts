/** What a picture is made smaller to: a dial can be read on it, and it travels in a second. */
const LONGEST_SIDE_PIXEL = 1_600;
/** Of 1,600 pixels these qualities make some 500 KB and 250 KB; the host takes 2 MB. */
const QUALITIES = [0.85, 0.6];
const MOST_SENT_BYTES = 2 * 2 ** 20;
/** A telephone's picture has 12 MB at most; what is far larger would stop a telephone that has to unpack it. */
const MOST_GIVEN_BYTES = 40 * 2 ** 20;

export type Smaller =
  | { readonly kind: 'picture'; readonly blob: Blob }
  | { readonly kind: 'none'; readonly why: string };
const none = (why: string): Smaller => ({ kind: 'none', why });

const BEGINNINGS = [
  [0xff, 0xd8, 0xff],
  [0x89, 0x50, 0x4e, 0x47],
];

/** What a file is called says nothing. Source: ITU-T T.81, B.2.1; PNG (W3C), 5.2. */
async function isPicture(file: File): Promise<boolean> {
  const first = new Uint8Array(await file.slice(0, 4).arrayBuffer());
  return BEGINNINGS.some((bytes) => bytes.every((byte, index) => first[index] === byte));
}

/**
 * The pixels of a JPEG or PNG drawn anew, upright, no larger than a record needs: what a camera wrote beside them (place,
 * time, its own number) never leaves this device.
 */
export async function smallerPicture(file: File): Promise<Smaller> {
  if (file.size > MOST_GIVEN_BYTES)
    return none(
      `This file has ${Math.round(file.size / 2 ** 20)} MB; at most 40 MB can be made smaller here.`,
    );
  if (!(await isPicture(file))) return none('This file is no JPEG and no PNG, whatever it is called.');
  try {
    const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
    const scale = Math.min(1, LONGEST_SIDE_PIXEL / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext('2d');
    if (pen === null) return none('This browser cannot draw pictures.');
    // What is clear in a PNG would else come out black.
    pen.fillStyle = '#ffffff';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    for (const quality of QUALITIES) {
      const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', quality));
      if (blob !== null && blob.size <= MOST_SENT_BYTES) return { kind: 'picture', blob };
    }
    return none('This picture cannot be made small enough.');
  } catch {
    return none('This picture is damaged: this browser cannot open it.');
  }
}
