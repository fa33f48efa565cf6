/** Temperature coefficient of copper at 20 degC, per kelvin. Source: IEC 60028 (annealed copper), 0.00393. */
const COPPER_PER_KELVIN = 0.003_93;

/** Factor by which a copper coil's resistance grows for a rise in temperature (dimensionless). Source: IEC 60028. */
export const copperFactor = (riseKelvin: number): number => 1 + COPPER_PER_KELVIN * riseKelvin;
