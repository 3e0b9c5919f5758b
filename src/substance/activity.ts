export function activityCoefficients(xIpa: number, xWater: number): { ipa: number; water: number } {
  const d = 1.042 * xIpa + 0.492 * xWater;
  return { ipa: 10 ** (1.042 * ((0.492 * xWater) / d) ** 2), water: 10 ** (0.492 * ((1.042 * xIpa) / d) ** 2) };
}
