"""Serves SunSpec devices over Modbus TCP by pymodbus: one gateway with several units.

Run: /usr/bin/python3 server.py PORT. Prints READY once it listens. Lines "UNIT ADDRESS WORD" on standard input change a register.
Layouts are written down here from the open standard's model definitions, apart from the program that reads them.
"""
import asyncio
import logging
import struct
import sys

from pymodbus.datastore import ModbusServerContext, ModbusSlaveContext, ModbusSparseDataBlock
from pymodbus.server import StartAsyncTcpServer

logging.disable(logging.CRITICAL)


def words(data):
    return list(struct.unpack(f">{len(data) // 2}H", data))


def text(value, registers):
    return value.encode("ascii").ljust(2 * registers, b"\0")


def common(serial, pad=True):
    body = text("Merganser", 16) + text("Teal 12", 16) + text("", 8) + text("1.4", 8) + text(serial, 16)
    body += struct.pack(">H", 1) + (struct.pack(">H", 0x8000) if pad else b"")
    return struct.pack(">HH", 1, len(body) // 2) + body


def inverter(state, evt1, evt_vnd1=0):
    """Models 101 to 103: 36 registers of measurements; then St, StVnd, Evt1, Evt2, EvtVnd1 to 4."""
    measured = struct.pack(">36H", *([0xFFFF] * 36))
    tail = struct.pack(">HH", state, 0xFFFF) + struct.pack(">6I", evt1, 0, evt_vnd1, 0, 0, 0)
    return struct.pack(">HH", 103, 50) + measured + tail


def inverter_float(state, evt1):
    """Models 111 to 113: 23 floats, then the same tail."""
    measured = struct.pack(">23f", *([float("nan")] * 23))
    tail = struct.pack(">HH", state, 0xFFFF) + struct.pack(">6I", evt1, 0, 0, 0, 0, 0)
    return struct.pack(">HH", 113, 60) + measured + tail


def status(ris, factor):
    """Model 122: 42 registers of connection states, energies, settings and time; then Ris and Ris_SF."""
    return struct.pack(">HH", 122, 44) + struct.pack(">42H", *([0xFFFF] * 42)) + struct.pack(">Hh", ris, factor)


def trackers(events):
    """Model 160: four scale factors, Evt, N, TmsPer; then 20 registers a tracker."""
    body = struct.pack(">4hIHH", 0, 0, 0, 0, 0, len(events), 0xFFFF)
    for number, event in enumerate(events, 1):
        body += struct.pack(">H", number) + text(f"T{number}", 8)
        body += struct.pack(">HHHIIhHI", 0xFFFF, 0xFFFF, 0xFFFF, 0, 0xFFFFFFFF, -0x8000, 4, event)
    return struct.pack(">HH", 160, len(body) // 2) + body


def combiner(event, inputs):
    """Model 401: three scale factors, DCAMax, N, Evt, EvtVnd, DCA, DCAhr, DCV, temperature; then 8 registers an input."""
    body = struct.pack(">3hHHIIhIhh", 0, 0, 0, 0xFFFF, len(inputs), event, 0, 0, 0, 0, 0)
    for number, one in enumerate(inputs, 1):
        body += struct.pack(">HIIhI", number, one, 0, 0, 0)[:16]
    return struct.pack(">HH", 401, len(body) // 2) + body


def der_ac(state, alarms):
    """Model 701: ACType, St, InvSt, ConnSt, Alrm, then 147 registers."""
    body = struct.pack(">HHHHI", 0, 1, state, 1, alarms) + struct.pack(">147H", *([0xFFFF] * 147))
    return struct.pack(">HH", 701, len(body) // 2) + body


def der_dc(alarms):
    """Model 714: PrtAlrms, NPrt, 15 registers; then 25 registers a port."""
    body = struct.pack(">IH", 0, len(alarms)) + struct.pack(">15H", *([0xFFFF] * 15))
    for number, alarm in enumerate(alarms, 1):
        body += struct.pack(">HH", 0, number) + text(f"P{number}", 8)
        body += struct.pack(">12H", *([0xFFFF] * 12)) + struct.pack(">HI", 1, alarm)
    return struct.pack(">HH", 714, len(body) // 2) + body


def device(base, *models, end=b"\xff\xff\x00\x00"):
    registers = words(b"SunS" + b"".join(models) + end)
    block = ModbusSparseDataBlock({base + at: word for at, word in enumerate(registers)})
    return ModbusSlaveContext(hr=block, zero_mode=True)


GROUND_FAULT = 1
COMBINER_GROUND_FAULT = 1 << 12
NONE32 = 0xFFFFFFFF

UNITS = {
    1: device(40000, common("A-1"), inverter(4, 0), status(185, 3)),
    2: device(0, common("A-2", pad=False), inverter_float(7, GROUND_FAULT), status(0xFFFF, 3)),
    3: device(50000, common("A-3"), der_ac(6, 0), der_dc([0, GROUND_FAULT]), status(65000, -1)),
    4: device(40000, common("A-4"), inverter(0xFFFF, NONE32, NONE32), status(185, -0x8000)),
    # The length of the end model is not served.
    5: device(40000, common("A-5"), combiner(0, [0, 0, COMBINER_GROUND_FAULT]), end=b"\xff\xff"),
    6: device(40000, common("A-6"), inverter(4, 0, 1 << 5), trackers([0, 0]), status(9, 3)),
    # No marker anywhere.
    7: ModbusSlaveContext(hr=ModbusSparseDataBlock({100: 42, 101: 43}), zero_mode=True),
}


def change(line):
    unit, address, word = (int(part) for part in line.split())
    UNITS[unit].setValues(3, address, [word])


async def main(port):
    loop = asyncio.get_running_loop()
    loop.add_reader(sys.stdin, lambda: change(sys.stdin.readline() or sys.exit(0)))
    context = ModbusServerContext(slaves=UNITS, single=False)
    serving = asyncio.ensure_future(StartAsyncTcpServer(context=context, address=("127.0.0.1", port), allow_reuse_address=True))
    await asyncio.sleep(0.2)
    if not serving.done():
        print("READY", flush=True)
    await serving


asyncio.run(main(int(sys.argv[1])))
