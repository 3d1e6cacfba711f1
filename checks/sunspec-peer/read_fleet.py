"""Reads a simulated device by pymodbus as a client and prints what it saw as JSON. Run: read_fleet.py PORT UNIT BASE."""
import json
import logging
import sys

from pymodbus.client import ModbusTcpClient

logging.disable(logging.CRITICAL)
port, unit, base = (int(argument) for argument in sys.argv[1:])
client = ModbusTcpClient("127.0.0.1", port=port)
client.connect()


def read(address, count):
    reply = client.read_holding_registers(address, count, slave=unit)
    return {"exception": reply.exception_code} if reply.isError() else reply.registers


def chain():
    models, address = [], base + 2
    while True:
        number, length = read(address, 2)
        if number == 0xFFFF:
            return models
        models.append([number, length, address])
        address += 2 + length


write = client.write_register(base, 1, slave=unit)
models = chain()
inverter = next((model for model in models if model[0] == 103), None)
print(
    json.dumps(
        {
            "marker": read(base, 2),
            "models": [model[:2] for model in models],
            "events": inverter and read(inverter[2] + 40, 2),
            "state": inverter and read(inverter[2] + 38, 1),
            "outside": read(base + 3000, 2),
            "otherUnit": client.read_holding_registers(base, 2, slave=200).exception_code,
            "written": write.exception_code if write.isError() else "taken",
        }
    )
)
client.close()
