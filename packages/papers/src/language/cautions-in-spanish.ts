/** The cautions in Spanish, by their id. A test holds that none of the engine's is missing. */
export const CAUTIONS_IN_SPANISH: Readonly<Record<string, string>> = {
  "licensed-and-local":
    "Este trabajo puede matar. Corresponde a personas con licencia para hacerlo; el reglamento local, la norma y las instrucciones del fabricante van antes que todo lo escrito aquí.",
  "light-is-supply":
    "La luz es la alimentación: de día el campo solar no se puede apagar, y hasta una luz débil da casi toda la tensión en vacío.",
  "dc-lives-on": "Considere con tensión el lado de corriente continua aunque el lado de la red esté apagado.",
  "metal-may-be-live":
    "Mientras hay un defecto a tierra, los marcos, los carriles y las masas metálicas pueden tener tensión. Mídalos respecto a tierra antes de tocar o subir.",
  "damage-strays":
    "Un campo solar dañado puede poner bajo tensión cubiertas, canalones y remates metálicos por caminos que nadie previó.",
  "second-fault":
    "En un campo flotante el segundo defecto a tierra cierra un cortocircuito por tierra. Encuentre pronto el primero, y pare si una medida indica que hay dos.",
  "prove-zero-current":
    "Compruebe con una pinza de corriente continua que la corriente del conductor es cero antes de separar un conector, un fusible o un puente. Separado en carga hace un arco que no se apaga solo.",
  "clamp-and-voltmeter":
    "Un campo dañado es el más peligroso. Lleve una pinza de corriente continua además de un voltímetro y use los dos antes de tocar.",
  "prove-test-prove": "Compruebe el aparato en una fuente conocida, mida, y compruebe el aparato otra vez.",
  "lock-and-tag":
    "Desconecte, bloquee, señalice, verifique con el voltímetro y anote quién lo hizo y cuándo.",
  "wear-protection":
    "Lleve al menos guantes para la tensión más alta del campo y protección ocular; añada ropa contra el arco si su energía lo pide. Hay campos de hasta 1.500 V.",
  "estimate-arc-energy":
    "La energía del arco se estima antes; en corriente continua los métodos están menos asentados que en alterna: deje un margen.",
  "loose-ends":
    "Un cable suelto de una cadena, sin terminar, ha dado descargas con unos 176 V de continua: termine el extremo lejano antes de unir los módulos.",
  "capacitive-shock":
    "Un campo mojado o sucio, sin separación de la red, puede dar una descarga capacitiva; la caída que provoca es el daño mayor.",
  "no-wet-roof":
    "Nada de trabajos en una cubierta mojada o con viento. Un defecto que solo aparece con humedad se mide desde el suelo.",
  "let-charge-off":
    "Un medidor de aislamiento carga el campo: no lo toque hasta que se haya descargado y se haya medido que no queda carga.",
  "short-by-switch":
    "Si una prueba pide unir positivo y negativo, únalos y sepárelos con un interruptor apto para esa tensión y corriente continuas, nunca enchufando conectores.",
  "resistor-at-shock-level":
    "La resistencia de prueba lleva una corriente capaz de dar una descarga: use una resistencia cerrada de la potencia indicada, un interruptor apto para la tensión continua, un tiempo límite, y nadie cerca del campo.",
  "earthed-conductor-may-be-live":
    "Un conductor que normalmente está a tierra puede dejar de estarlo y tener tensión cuando su fusible o interruptor de defecto a tierra se ha abierto.",
  "no-repeated-reset": "No rearme la alarma una y otra vez para ver si se mantiene. Busque la causa.",
};
