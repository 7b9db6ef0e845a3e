export {
  besideFile,
  type FurtherFile,
  type FurtherRecordings,
  furtherBeside,
  furtherFiles,
  furtherIdentity,
  type SecondRecording,
} from './further.ts';
export {
  filesOfFlight,
  type FoundFlight,
  foundFlights,
  type InspectedRecording,
} from './joined-flights.ts';
export { joinFlight, type JoinedFlight, type ReadFile, type Recorder } from './join-flight.ts';
export {
  asOneFlight,
  filesOf,
  flewTogether,
  type LikelyFlight,
  likelyFlights,
  outlineOf,
  type RecordingOutline,
  type WrongClock,
  wrongClocks,
} from './one-flight.ts';
export { type FlightToRead, readFlight, type ReadRecording } from './read-flight.ts';
export { broughtText, wrongClockText, offsetText, partSentences, roleText } from './words.ts';
