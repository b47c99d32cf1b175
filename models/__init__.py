"""The trade: light, street and kit. Knows no web."""

import os

# Our matrices are small and many are solved at a time, one for each spot asked for. Left alone, OpenBLAS splits each
# over all cores and its threads spin while they wait: twice the processor time on two cores, more where these are busy.
# It reads this when numpy is first imported; what the environment says already stays.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
