/* A row of the species list: name, bar, detections, scientific name, stations and rate. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-findings.h"

G_BEGIN_DECLS

#define TPT_TYPE_SPECIES_ROW (tpt_species_row_get_type ())
G_DECLARE_FINAL_TYPE (TptSpeciesRow, tpt_species_row, TPT, SPECIES_ROW, GtkWidget)

GtkWidget *tpt_species_row_new (void);

/* @most: detections that fill the bar. */
void tpt_species_row_show (TptSpeciesRow *self, TptSpeciesItem *item, gint64 most);

/* The row that stands for every species. @rate: of all of them, with or without
 * an interval. */
void tpt_species_row_show_all (TptSpeciesRow *self, const TptRate *rate);

/* The scientific name it shows; %NULL for all. */
const char *tpt_species_row_get_name (TptSpeciesRow *self);

/* Whether it stands beside the species that is chosen. */
void tpt_species_row_set_beside (TptSpeciesRow *self, gboolean beside);

/* (transfer full): "1.49 per 100 trap nights (1.15 to 1.91)". */
char *tpt_species_row_word_rate (const TptRate *rate);

G_END_DECLS
