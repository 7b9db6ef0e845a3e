/** No circle smaller than this hides a field, metres: a traffic circuit is about 1 to 3 km from the runway (common practice, no source). */
export const smallestRadiusM = 2000;
