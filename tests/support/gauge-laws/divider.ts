/**
 * Voltage at an electronic gauge's input: V r / (Rpu + r). Source: voltage divider; published 5 V, 1 kohm: 0.412 V at
 * 89.9 ohm.
 */
export const dividerVolt = (senderOhm: number, pullUpOhm: number, referenceVolt: number): number =>
  senderOhm === Infinity ? referenceVolt : (referenceVolt * senderOhm) / (pullUpOhm + senderOhm);
