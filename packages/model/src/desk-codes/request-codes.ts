import type { CodePage } from "../watch/refusal.ts";

/** Why a request to the desk was not carried out. */
export const requestCodes = {
  REQUEST_BODY_INVALID: {
    title: "The request does not have the form that is asked for",
    meaning:
      "A field of the body, the address or the query is missing, unknown or of the wrong kind; each is listed.",
    next: "Correct the fields that the answer lists. /openapi.json has the form of every request.",
  },
  REQUEST_TOKEN_MISSING: {
    title: "The request carries no token",
    meaning: "All but the page behind a link and the state of the desk is for those who hold a token.",
    next: "Send the header Authorization: Bearer TOKEN. Make a token with: earthbell token.",
  },
  REQUEST_TOKEN_UNKNOWN: {
    title: "The token is not known, or was revoked",
    meaning: "The desk keeps only the hash of a token and finds none that fits.",
    next: "Check that the whole token was sent, or make another.",
  },
  REQUEST_NOT_ALLOWED: {
    title: "The token does not reach that far",
    meaning: "A site's token pushes readings of that site, and nothing else.",
    next: "Use a person's token for what people do, and the token of the site for its readings.",
  },
  REQUEST_FOREIGN: {
    title: "The request comes from another page",
    meaning: "A browser that is signed in was made to send it by a page that is not the desk's.",
    next: "Do it in the desk's own page. A program uses a token instead of a browser's session.",
  },
  RULES_OVERRIDE_CHANGED: {
    title: "Somebody else overrode this value meanwhile",
    meaning: "A change is made from what was in force when the page was opened. Nothing was taken in.",
    next: "Look at the newer override, and change that where it is still needed.",
  },
  SETTINGS_CHANGED: {
    title: "The settings were changed by somebody else meanwhile",
    meaning: "A change is made from the file as it was when the page was opened, and it is another one now.",
    next: "Open the page again, and make the change in what stands there.",
  },
  SETTINGS_NOT_EDITABLE: {
    title: "This section cannot be changed without touching others",
    meaning:
      "The file is written in a way that this program cannot change in one place, the text cannot be read, or there is no file.",
    next: "Change the file of the settings by hand, and start the desk again.",
  },
  SETTINGS_CHANNEL_UNUSABLE: {
    title: "A way of telling cannot be set up by these settings",
    meaning:
      "The form is right, but something that it names cannot be read or filled: a secret, a certificate, a template.",
    next: "Correct what the answer names; nothing was changed.",
  },
  SITE_FILE_CHANGED: {
    title: "The site file was changed by somebody else meanwhile",
    meaning:
      "A change is made from one revision of the file, and there is a newer one now. Nothing was taken in.",
    next: "Take the newer file, make the change in it again, and save that.",
  },
  ACCOUNT_SIGN_IN_FAILED: {
    title: "Name and password do not fit together",
    meaning:
      "There is no such account, it was disabled, or the password is another one; which of these is not told.",
    next: "Check both. Somebody who runs the desk can make you a new link.",
  },
  ACCOUNT_WAIT: {
    title: "Too many attempts at this name",
    meaning: "After five wrong passwords each further attempt has to wait, and longer each time.",
    next: "Wait as long as Retry-After says, or sign in with a passkey.",
  },
  ACCOUNT_LINK_SPENT: {
    title: "The link was used, has expired, or is not known",
    meaning: "A link makes one account and works for three days.",
    next: "Ask somebody who runs the desk for another. The desk prints one at its start while nobody can sign in.",
  },
  ACCOUNT_LOOK_ENDED: {
    title: "The owner's link has ended, or is not known",
    meaning:
      "A link by which an owner looks at the own sites holds for some days, and can be revoked before.",
    next: "Ask the service engineer who made it for another.",
  },
  ACCOUNT_NAME_TAKEN: {
    title: "The name is taken",
    meaning: "Every step is recorded under the name of an account, so that no two are alike.",
    next: "Choose another name; the full name is best.",
  },
  ACCOUNT_PASSKEY_FAILED: {
    title: "The passkey could not be checked",
    meaning:
      "The answer does not fit the question, came too late, or belongs to no account that can sign in.",
    next: "Try again. If it was made for another address of the desk, use the password once and add a new one.",
  },
  VISIT_ELSEWHERE: {
    title: "A visit of this id is on record for another site",
    meaning: "A visit stays with the site for which it was begun, and its id is made once for ever.",
    next: "Save the visit as a file on the device that has it, and begin a new visit at the right site.",
  },
  VISIT_ENTRY_DIFFERS: {
    title: "An entry of this id is on record and says something else",
    meaning: "Entries are only ever added. One that is sent again has to be the same as before.",
    next: "Nothing of what was sent was taken in. Save the visit as a file on the device that has it.",
  },
  VISIT_FULL: {
    title: "The visit has as many entries or photos as one visit takes",
    meaning:
      "A visit takes 5,000 entries and 200 photos. What is on record stays; nothing that was sent now was taken in.",
    next: "Begin another visit to the same case and go on there. Photos that stay out are still on the device.",
  },
  PHOTO_DIFFERS: {
    title: "A photo of this id is on record and is another picture",
    meaning: "A photo is evidence: once it is on record it is never replaced.",
    next: "Add the picture as a new photo.",
  },
  PHOTO_KIND_UNKNOWN: {
    title: "The picture is of no kind that is taken in",
    meaning:
      "What is sent is looked at by its first bytes, whatever its name says. JPEG, PNG, WebP, HEIC and AVIF are taken in.",
    next: "Save the picture as JPEG or PNG and add it again.",
  },
  REQUEST_UNKNOWN: {
    title: "There is nothing at that address",
    meaning: "The site, case, alarm, drill or page that the address names is not known here.",
    next: "Look it up in the list one level above. /openapi.json has every address.",
  },
  REQUEST_TOO_LARGE: {
    title: "The body is too large",
    meaning: "A request is bounded so that one sender cannot stop the desk.",
    next: "Send fewer readings at once, or cut the file in parts.",
  },
  REQUEST_TOO_MANY: {
    title: "Too many requests",
    meaning: "One sender asked more often than the desk takes.",
    next: "Wait as long as the header Retry-After says; put several readings into one request.",
  },
  REQUEST_NOT_STORED: {
    title: "What was sent could not be stored",
    meaning: "The disk is full, the database does not answer, or the desk is stopping. Nothing was taken in.",
    next: "Send it again with the same idempotency key. The keeper of the desk finds the cause in its log and at /healthz.",
  },
} as const satisfies Readonly<Record<string, CodePage>>;

export type RequestCode = keyof typeof requestCodes;
