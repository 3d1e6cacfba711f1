import type { NoticeWords } from "./notice-words.ts";

const LOADS = {
  sounder: "Una sirena",
  beacon: "Una luz intermitente",
  lamp: "Una lámpara",
  relay: "Un aparato conectado al contacto de alarma",
  unknown: "Una sirena o una lámpara",
} as const;

export const noticeInSpanish: NoticeWords = {
  title: "Cuando actúa la alarma de defecto a tierra",
  lead: "La alarma avisa de que la electricidad de los paneles solares se escapa a tierra. Una fuga puede dar una descarga y puede causar un incendio. Tome en serio toda alarma.",
  never: "Nunca",
  keepOff: "No toque el tejado, los marcos, los cables ni los canalones, y no deje que otros se acerquen.",
  open: "No abra ninguna tapa, conector ni caja de interruptores de la instalación solar. Eso corresponde a personas con licencia.",
  live: "Los paneles siguen con tensión mientras hay luz del día, aunque la instalación esté apagada.",
  reset: "No rearme la alarma una y otra vez para ver si se calla.",
  leaveAlarm: "No desenchufe, tape ni pinte la alarma, y no apague aquello de lo que depende.",
  reviewed: (owner, day) =>
    `Texto de seguridad: ${owner === "maintainers of the safety text" ? "responsables del texto de seguridad" : owner}, leído por última vez el ${day}. Traducción sin revisar por un técnico con licencia.`,
  now: "Haga esto ahora",
  stayAway:
    "Manténgase lejos del tejado, las paredes y los canalones que están bajo los paneles, y con usted los niños, los animales y las visitas.",
  shutDown:
    "Apague la instalación como indica el letrero que está junto a ella, si puede hacerlo sin subir a ningún sitio y sin tocar metal del campo solar.",
  call: (who) => `Llame a ${who}. Diga «defecto a tierra» y el nombre del lugar.`,
  callUnknown:
    "Llame a la empresa que mantiene la instalación. Diga «defecto a tierra» y el nombre del lugar.",
  acknowledge:
    "Si ha recibido un mensaje, confírmelo como el mensaje indica, para que otros sepan que alguien lo ha visto.",
  telephone: "Teléfono",
  alarmHere: "La alarma de este lugar",
  light: (inverter, where, distance) =>
    `La luz de avería del inversor ${inverter}${where === "" ? "" : ` (${where})`}${distance === "" ? "" : `; mírela desde ${distance} como mucho`}.`,
  sounds: (load, distance) =>
    `${LOADS[load]} que conecta el inversor${distance === "" ? "" : `, a unos ${distance} de donde están las personas`}.`,
  message: (to, every) => `Un mensaje a ${to}${every === "" ? "" : `, que se repite cada ${every}`}.`,
  covers: (arrays) => `Vigila ${arrays}.`,
  noAlarm: "No consta ninguna alarma en este lugar. Pregunte a quien mantiene la instalación.",
  elseTitle: "Qué más la hace actuar",
  anyFault:
    "El relé y la luz del inversor actúan con cualquier avería del inversor, no solo con un defecto a tierra. Desde fuera no se distinguen: trátela como un defecto a tierra.",
  earthOnly: "Está ajustada para actuar solo con defectos a tierra.",
  wet: "A menudo actúa en una mañana húmeda y se calla sola. El defecto sigue ahí.",
  test: "Las pruebas se le anuncian antes. Una alarma que nadie anunció no es una prueba.",
  stopTitle: "Para parar el sonido o los mensajes",
  stopSound:
    "El sonido para cuando se apaga la instalación o se repara el defecto. Si hay un interruptor solo para el sonido, está aquí:",
  stopMessage: (until) => `Los mensajes paran cuando ${until}.`,
  stopLight: "La luz se apaga cuando el defecto está reparado y el inversor ha vuelto a comprobar.",
  soundSwitch: "Lugar del interruptor",
  acknowledged: "alguien los confirma",
  cleared: "el defecto ha desaparecido",
  or: " o ",
  nextTitle: "Qué pasa después",
  next: [
    "Viene una persona con licencia, asegura el lugar, mide y encuentra la fuga, con luz de día y el tejado seco.",
    "Usted recibe por escrito qué se encontró, qué se reparó y cuál era el aislamiento antes y después.",
    "La alarma se prueba una vez al año. Tenga este aviso a la vista.",
  ],
  pictureLight: (inverter, where, distance) =>
    `Una persona mira la luz en el frente del inversor ${inverter}${where === "" ? "" : ` (${where})`}${distance === "" ? "" : `, desde ${distance}`}.`,
  pictureSounder: (distance, walls) =>
    `El aparato de alarma a la izquierda, una persona a la derecha${distance === "" ? "" : `, a ${distance}`}${walls === 0 ? "" : `, con ${walls === 1 ? "una pared" : `${walls} paredes`} en medio`}.`,
  you: "usted",
  people: {
    owner: "el propietario",
    service: "la empresa de mantenimiento",
    installer: "el instalador",
    occupant: "quien ocupa el edificio",
    other: "una persona designada",
  },
};
