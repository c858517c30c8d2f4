/* What the sizes and shapes on the map of findings stand for. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-chart-map.h"

G_BEGIN_DECLS

#define TPT_TYPE_MAP_LEGEND (tpt_map_legend_get_type ())
G_DECLARE_FINAL_TYPE (TptMapLegend, tpt_map_legend, TPT, MAP_LEGEND, GtkWidget)

void tpt_map_legend_set_measure (TptMapLegend *self, TptMapMeasure measure);

G_END_DECLS
