"""The cautions that sheets carry where work or sound can hurt someone: the usual ones, in full."""

MAINS = (
    "Mains: never remove, tape or bypass a protective earth to cure hum. Use undamaged leads and, "
    "where local rules provide it, residual-current protection. Any tingle: stop, do not touch, "
    "switch off at the supply, and get a qualified electrician. Local codes and venue rules "
    "override this sheet."
)
VALVES = (
    "Valve amps: there are lethal voltages inside, and they can remain after unplugging. Do not "
    "open one; leave internal work to a qualified technician. Never run one without its proper "
    "load."
)
HEARING_SOURCE = (
    "for hearing NIOSH, Criteria for a Recommended Standard: Occupational Noise Exposure, 1998, "
    "publication 98-126"
)
HEARING = (
    "Hearing: NIOSH, a health agency, takes 85 dB(A) for 8 hours as the limit, and half the time "
    "for every 3 dB more: 94 dB for 1 hour, 100 dB for 15 minutes. Use fitted plugs, turn down, "
    "rest. Local work rules apply."
)
