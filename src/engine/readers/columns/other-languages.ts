/**
 * Words of headings in German, French, Spanish and Italian, for the English ones that the rules know (from memory). Looked up as
 * whole words only, since some are parts of English ones. What a language uses for a height above ground or for magnetic
 * directions is not here: such a column must not be taken for another.
 */
const englishOf: Readonly<Record<string, readonly string[]>> = {
  breite: ['latitude'],
  breitengrad: ['latitude'],
  latitud: ['latitude'],
  latitudine: ['latitude'],
  länge: ['longitude'],
  laenge: ['longitude'],
  längengrad: ['longitude'],
  laengengrad: ['longitude'],
  longitud: ['longitude'],
  longitudine: ['longitude'],
  datum: ['date'],
  fecha: ['date'],
  zeit: ['time'],
  uhrzeit: ['time'],
  heure: ['time'],
  hora: ['time'],
  ora: ['time'],
  zeitstempel: ['time'],
  horodatage: ['time'],
  höhe: ['altitude'],
  hoehe: ['altitude'],
  altitud: ['altitude'],
  altitudine: ['altitude'],
  druckhöhe: ['pressure', 'altitude'],
  druckhoehe: ['pressure', 'altitude'],
  geschwindigkeit: ['speed'],
  vitesse: ['speed'],
  velocidad: ['speed'],
  velocità: ['speed'],
  grund: ['ground'],
  über: ['over'],
  ueber: ['over'],
  sol: ['ground'],
  suelo: ['ground'],
  suolo: ['ground'],
  verticale: ['vertical'],
  vertikal: ['vertical'],
  steigrate: ['vertical', 'speed'],
  kurs: ['track'],
  rotta: ['track'],
  außentemperatur: ['outside', 'air', 'temperature'],
  aussentemperatur: ['outside', 'air', 'temperature'],
  drehzahl: ['rpm'],
};

/** The English words for a word of a heading in another language; `undefined` for any other. */
export function englishWords(word: string): readonly string[] | undefined {
  const whole = word.normalize('NFC');
  return Object.hasOwn(englishOf, whole) ? englishOf[whole] : undefined;
}
