/* The strip of stations through time, drawn of a pass. */
#pragma once

#include "tpt-figure.h"
#include "tpt-pass-private.h"

G_BEGIN_DECLS

/* @detections (element-type TptDetection): to show. With @named, rows carry the stations' names and codes;
 * else numbers by their order. A station that neither worked nor saw anything has no row. No caption. */
TptFigure *tpt_findings_strip_new (TptPass *pass, GArray *detections, gboolean named);

G_END_DECLS
