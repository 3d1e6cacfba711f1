import type { NoticeWords } from "./notice-words.ts";

const LOADS = {
  sounder: "A sounder",
  beacon: "A flashing light",
  lamp: "A lamp",
  relay: "A device on the alarm's contact",
  unknown: "A sounder or lamp",
} as const;

export const noticeInEnglish: NoticeWords = {
  title: "When the earth-fault alarm operates",
  lead: "The alarm says that electricity from the solar panels leaks to earth. A leak can give a shock and can start a fire. Take every alarm as real.",
  never: "Never",
  keepOff: "Do not touch the roof, the frames, the cables or the gutters, and keep others away from them.",
  open: "Open no cover, plug or switch box of the solar system. That belongs to licensed people.",
  live: "The panels stay live in daylight even when the system is shut down.",
  reset: "Do not reset the alarm again and again to see whether it stays quiet.",
  leaveAlarm: "Do not unplug, muffle or paint over the alarm, and do not switch off what it hangs on.",
  reviewed: (owner, day) => `Safety text: ${owner}, last read on ${day}.`,
  now: "Now do this",
  stayAway:
    "Keep yourself, children, animals and visitors away from the building's roof, walls and gutters under the panels.",
  shutDown:
    "Shut the system down in the way shown on the notice beside it, if you can do so without climbing and without touching metal of the array.",
  call: (who) => `Call ${who}. Say “earth fault” and the name of the site.`,
  callUnknown: "Call the firm that services the system. Say “earth fault” and the name of the site.",
  acknowledge:
    "If you got a message, acknowledge it as the message says, so that others know somebody has seen it.",
  telephone: "Telephone",
  alarmHere: "The alarm here",
  light: (inverter, where, distance) =>
    `The fault light of the inverter ${inverter}${where === "" ? "" : `, ${where}`}${distance === "" ? "" : `; look at it from ${distance} at most`}.`,
  sounds: (load, distance) =>
    `${LOADS[load]}, switched by the inverter${distance === "" ? "" : `, about ${distance} from where people are`}.`,
  message: (to, every) => `A message to ${to}${every === "" ? "" : `, again every ${every}`}.`,
  covers: (arrays) => `It watches ${arrays}.`,
  noAlarm: "No alarm is on record for this site. Ask who services the system.",
  elseTitle: "What else sets it off",
  anyFault:
    "The relay and the light of the inverter operate for any fault of the inverter, not only for an earth fault. You cannot tell from outside, so treat it as an earth fault.",
  earthOnly: "It is set to operate for earth faults only.",
  wet: "It often operates on a wet morning and goes quiet by itself. The fault is then still there.",
  test: "Tests are announced to you beforehand. An alarm that was not announced is no test.",
  stopTitle: "To stop the sound or the messages",
  stopSound:
    "The sound stops when the system is shut down or the fault is mended. If there is a switch for the sound alone, it is here:",
  stopMessage: (until) => `The messages stop when they are ${until}.`,
  stopLight: "The light goes out when the fault is mended and the inverter has checked again.",
  soundSwitch: "Place of the switch",
  acknowledged: "acknowledged",
  cleared: "no longer needed because the fault has cleared",
  or: " or ",
  nextTitle: "What happens next",
  next: [
    "A licensed person comes, makes the place safe, measures and finds the leak, by daylight and on a dry roof.",
    "You get in writing what was found, what was mended and what the insulation was before and after.",
    "The alarm is tried once a year. Keep this notice where it can be seen.",
  ],
  pictureLight: (inverter, where, distance) =>
    `A person looks at the light on the front of the inverter ${inverter}${where === "" ? "" : `, ${where}`}${distance === "" ? "" : `, from ${distance}`}.`,
  pictureSounder: (distance, walls) =>
    `The alarm device on the left, a person on the right${distance === "" ? "" : `, ${distance} away`}${walls === 0 ? "" : `, with ${walls === 1 ? "one wall" : `${walls} walls`} between them`}.`,
  you: "you",
  people: {
    owner: "the owner",
    service: "the service firm",
    installer: "the installer",
    occupant: "the occupant",
    other: "a named person",
  },
};
