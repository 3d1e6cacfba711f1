import type { QuestionId } from "./answers.ts";

/** One question to the installer, in the words of the trade. */
export interface AdviceQuestion {
  readonly id: QuestionId;
  readonly asks: string;
  /** What hangs on the answer. */
  readonly decides: string;
}

/** In the order in which they are asked: the rules first, then the people. */
export const ADVICE_QUESTIONS: readonly AdviceQuestion[] = [
  {
    id: "place",
    asks: "Which country and region, and which time zone and position if you have them?",
    decides: "which rules bind, and when the sun rises on the inverter",
  },
  {
    id: "installed",
    asks: "On which day was the array installed, or will it be?",
    decides: "which edition of the rules was in force",
  },
  {
    id: "strings",
    asks: "How many modules are in each string?",
    decides: "the voltage and the size of the array",
  },
  {
    id: "module",
    asks: "What does the data sheet say of one module: power, open-circuit voltage, coefficient, area?",
    decides: "the voltage on the coldest day, and how low a sound array may measure when wet",
  },
  {
    id: "lowestTemperature",
    asks: "What is the lowest air temperature at the site?",
    decides: "the highest voltage the array can reach",
  },
  {
    id: "inverter",
    asks: "What is the inverter's rated power, and is there a transformer between array and mains?",
    decides: "the insulation limit and the residual-current limit",
  },
  {
    id: "earthing",
    asks: "Is the array floating, functionally earthed or solidly earthed?",
    decides: "whether an alarm is required, and what the detector can see",
  },
  {
    id: "mounting",
    asks: "Does it stand on a building or in a field?",
    decides: "whether an exception of the rules applies",
  },
  {
    id: "people",
    asks: "Who can be told of a fault, and when do they read messages?",
    decides: "how soon a message is known",
  },
  {
    id: "present",
    asks: "When is somebody on the site, within hearing of a sounder?",
    decides: "whether a sounder or beacon is noticed, and how soon",
  },
  {
    id: "network",
    asks: "Which network reaches the inverter?",
    decides: "whether a message can be sent, and what breaks it",
  },
  {
    id: "light",
    asks: "Where does the inverter hang: how many times a day does somebody who knows it pass, and how near?",
    decides: "whether its own light is seen",
  },
  {
    id: "relay",
    asks: "Has the inverter a fault contact, and what operates it?",
    decides: "whether a sounder or beacon can be switched",
  },
];
