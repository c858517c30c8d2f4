/* What a visit sheet tells of one station, and how. */
#pragma once

#include "tpt-packing.h"
#include "tpt-query.h"
#include "tpt-sheet.h"
#include "tpt-station-item.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* What is the same for every station of a sheet. */
typedef struct {
  TptStore *store;
  TptZone *zone;
  TptInstant on, until;
  double threshold;
  gboolean exact;
  GArray *readings; /* (owned) (element-type TptLastReading): by unit */
  TptPacking *packing; /* (owned): of all the stations of the sheet */
} TptSheetContext;

/**
 * TptSheetUnit: a unit of the rig.
 * @reading: (nullable): the last since it was fitted, within the context
 * @forecast: (nullable): within the station's
 */
typedef struct {
  TptRecord *unit; /* (owned) */
  TptInstant fitted_at;
  const TptLastReading *reading;
  const TptUnitForecast *forecast;
} TptSheetUnit;

typedef struct {
  const TptSheetContext *context;
  TptStationItem *item;  /* (owned) */
  TptRecord *last_visit; /* (owned) (nullable) */
  GPtrArray *done;       /* (owned) (element-type TptRecord): readings of the last visit */
  GPtrArray *done_units; /* (owned) (element-type TptRecord): the unit of each */
  GPtrArray *units;      /* (owned) (element-type TptSheetUnit): camera first */
  GArray *pack;          /* (owned) (element-type TptPackItem): what to bring here */
} TptVisitSheet;

/* (transfer full) (nullable): once for each station, in the order of the sheet. */
TptVisitSheet *tpt_visit_sheet_read (const TptSheetContext *context, TptStationItem *item, GError **error);
void tpt_visit_sheet_free (TptVisitSheet *self);

gboolean tpt_visit_sheet_has_kind (const TptVisitSheet *self, const char *kind);
gboolean tpt_visit_sheet_has_chemistry (const TptVisitSheet *self, const char *chemistry);
gboolean tpt_sheet_unit_is_kind (const TptSheetUnit *unit, const char *kind);

/* Words; each function adds to @lines, (element-type utf8). */
void tpt_visit_sheet_say_place (const TptVisitSheet *self, GPtrArray *lines);
void tpt_visit_sheet_say_last_visit (const TptVisitSheet *self, GPtrArray *lines);
void tpt_visit_sheet_say_due (const TptVisitSheet *self, GPtrArray *lines);
void tpt_visit_sheet_say_bring (const TptVisitSheet *self, GPtrArray *lines);
void tpt_visit_sheet_say_cautions (const TptVisitSheet *self, GPtrArray *lines);
/* (transfer full) */
char *tpt_visit_sheet_say_reading (const TptVisitSheet *self, const TptSheetUnit *unit);
char *tpt_visit_sheet_say_expected (const TptVisitSheet *self, const TptSheetUnit *unit);

/* A chapter of @sheet. */
void tpt_visit_sheet_lay (const TptVisitSheet *self, TptSheet *sheet);

/* The table to fill in: (element-type TptVisitSheet). */
gboolean tpt_visit_sheet_write_csv (const char *path, GPtrArray *stations, GError **error);
/* %FALSE with TPT_ERROR_DATA when @path is there and anything but an empty sheet. */
gboolean tpt_visit_sheet_may_replace (const char *path, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptVisitSheet, tpt_visit_sheet_free)

G_END_DECLS
