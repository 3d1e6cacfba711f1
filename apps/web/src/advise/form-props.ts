import type { AdviceForm } from "./form.ts";

/** What every part of the form is given. */
export interface FormProps {
  readonly form: AdviceForm;
  readonly set: (part: Partial<AdviceForm>) => void;
}
