import { parseQuantity } from '../../../shared/quantity.ts';

/** No circle smaller than this hides a field, metres: a traffic circuit is about 1 to 3 km from the runway (common practice, no source). */
export const smallestRadiusM = 2000;

/** Nothing of an ordinary flight is left outside a circle larger than this, metres (own judgement: an hour's way). */
export const largestRadiusM = 200_000;

/** A radius as a person writes it, such as "8 km", in metres; a sentence that says what is expected when it is none. */
export function readRadius(text: string): number | string {
  const read = parseQuantity(text, 'length');
  if (!read.ok) return read.message;
  const { value } = read.quantity;
  return value >= smallestRadiusM && value <= largestRadiusM
    ? value
    : `expected ${smallestRadiusM / 1000} km to ${largestRadiusM / 1000} km.`;
}
