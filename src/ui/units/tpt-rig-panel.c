#include "config.h"

#include "tpt-rig-panel.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-number.h"

/* More flashes than this are a slip of the finger. */
#define MAX_FLASHES 20
/* Stops below full power that flashes offer, 1/128: common practice, no source. */
#define MAX_STOPS 7

/* The numbers typed here, in the order they stand. */
typedef enum {
  ENTRY_F_NUMBER,
  ENTRY_BEAM,
  ENTRY_GUIDE,
  ENTRY_FLASHES,
  ENTRY_FLASH_DISTANCE,
  ENTRY_RATE,
  ENTRY_NIGHT,
  N_ENTRIES,
} EntryId;

static const struct {
  const char *label;
  double min, max;
} descriptions[N_ENTRIES] = {
  { N_("f-number"), 0.5, 64 },
  { N_("Distance of the beam (m)"), 0.05, 1000 },
  { N_("Guide number at ISO 100 (m)"), 0.1, 500 },
  { N_("Number of flashes"), 1, MAX_FLASHES },
  { N_("Distance of the flash (m)"), 0.05, 1000 },
  { N_("Triggers a day expected"), 0.001, 1e5 },
  { N_("Of these with flash (%)"), 0, 100 },
};

enum {
  SAY_VIEW,
  SAY_SHARP,
  SAY_FLASH,
  SAY_ENERGY,
  SAY_CARD,
  N_SAY,
};

typedef char *(*SayFunc) (const TptRigInputs *inputs, const TptRigOutputs *outputs);

static const SayFunc say[N_SAY] = {
  tpt_rig_say_view, tpt_rig_say_sharp, tpt_rig_say_flash, tpt_rig_say_energy, tpt_rig_say_card,
};

struct _TptRigPanel {
  GtkWidget parent_instance;

  GtkDropDown *sensor; /* the first choice is 'unknown' */
  GtkDropDown *power;  /* stops below full */
  GtkEditable *entries[N_ENTRIES];
  GtkLabel *words[N_SAY];
  int filling; /* > 0 while the panel itself writes */
  gboolean rate_typed;

  TptRecord *deployment; /* (owned) (nullable) */
  GPtrArray *units;      /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptRigPanel, tpt_rig_panel, GTK_TYPE_WIDGET)

/* NAN for an empty or wrong entry; a wrong one shows as such. */
static double
read_entry (TptRigPanel *self, EntryId id)
{
  const char *text = gtk_editable_get_text (self->entries[id]);
  gboolean empty = *text == '\0';
  double value = NAN;
  gboolean good = !empty && tpt_number_parse_real (text, descriptions[id].min, descriptions[id].max, &value, NULL);

  if (good || empty)
    gtk_widget_remove_css_class (GTK_WIDGET (self->entries[id]), "error");
  else
    gtk_widget_add_css_class (GTK_WIDGET (self->entries[id]), "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entries[id]), GTK_ACCESSIBLE_STATE_INVALID,
                               good || empty ? GTK_ACCESSIBLE_INVALID_FALSE : GTK_ACCESSIBLE_INVALID_TRUE, -1);
  return good ? value : NAN;
}

static double
get_real (TptRigPanel *self, const char *column)
{
  return self->deployment != NULL ? tpt_record_get_real (self->deployment, column) : NAN;
}

static double
get_frames (TptRigPanel *self)
{
  gboolean set = self->deployment != NULL && tpt_record_is_set (self->deployment, "frames_per_trigger");

  return set ? (double) tpt_record_get_integer (self->deployment, "frames_per_trigger", 1) : NAN;
}

static const TptRigSensor *
get_sensor (TptRigPanel *self)
{
  guint chosen = gtk_drop_down_get_selected (self->sensor), n;
  const TptRigSensor *sensors = tpt_rig_sensors (&n);

  return chosen > 0 && chosen <= n ? &sensors[chosen - 1] : NULL;
}

static TptRigInputs
gather (TptRigPanel *self)
{
  return (TptRigInputs){
    .sensor = get_sensor (self),
    .focal_mm = get_real (self, "focal_mm"),
    .f_number = read_entry (self, ENTRY_F_NUMBER),
    .focus_m = get_real (self, "focus_m"),
    .beam_m = read_entry (self, ENTRY_BEAM),
    .iso = get_real (self, "iso"),
    .guide_m = read_entry (self, ENTRY_GUIDE),
    .power = exp2 (-(double) gtk_drop_down_get_selected (self->power)),
    .n_flashes = read_entry (self, ENTRY_FLASHES),
    .flash_m = read_entry (self, ENTRY_FLASH_DISTANCE),
    .triggers_per_day = read_entry (self, ENTRY_RATE),
    .night_share = read_entry (self, ENTRY_NIGHT) / 100,
    .frames_per_trigger = get_frames (self),
    .frame_mb = get_real (self, "frame_mb"),
    .temperature_c = get_real (self, "temperature_c"),
    .units = self->units,
  };
}

static void
update (TptRigPanel *self)
{
  TptRigInputs inputs;
  TptRigOutputs outputs;

  if (self->filling > 0)
    return;
  inputs = gather (self);
  tpt_rig_reckon (&inputs, &outputs);
  for (guint i = 0; i < N_SAY; i++)
    {
      g_autofree char *words = say[i] (&inputs, &outputs);
      gtk_label_set_label (self->words[i], words);
    }
}

static void
rate_changed_cb (TptRigPanel *self)
{
  if (self->filling == 0)
    self->rate_typed = TRUE;
}

static void
set_number (TptRigPanel *self, EntryId id, double value, int decimals)
{
  g_autofree char *text = tpt_number_format_fixed (value, decimals);

  self->filling++;
  gtk_editable_set_text (self->entries[id], text);
  self->filling--;
}

static GtkWidget *
add_control (GtkWidget *grid, int place, const char *text, GtkWidget *control)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (label, "caption");
  gtk_widget_set_hexpand (control, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), control);
  gtk_grid_attach (GTK_GRID (grid), box, place % 2, place / 2, 1, 1);
  return control;
}

static GtkWidget *
make_choice (TptRigPanel *self, GtkStringList *list)
{
  GtkWidget *choice = gtk_drop_down_new (G_LIST_MODEL (list), NULL);

  g_signal_connect_swapped (choice, "notify::selected", G_CALLBACK (update), self);
  return choice;
}

static GtkWidget *
make_sensor (TptRigPanel *self)
{
  GtkStringList *list = gtk_string_list_new (NULL);
  const TptRigSensor *sensors;
  guint n;

  gtk_string_list_append (list, _("Unknown"));
  sensors = tpt_rig_sensors (&n);
  for (guint i = 0; i < n; i++)
    gtk_string_list_append (list, sensors[i].name);
  return make_choice (self, list);
}

static GtkWidget *
make_power (TptRigPanel *self)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  gtk_string_list_append (list, _("Full"));
  for (guint stops = 1; stops <= MAX_STOPS; stops++)
    gtk_string_list_take (list, g_strdup_printf ("1/%u", 1u << stops));
  return make_choice (self, list);
}

static void
add_entry (TptRigPanel *self, GtkWidget *grid, int place, EntryId id)
{
  GtkWidget *entry = gtk_entry_new ();

  self->entries[id] = GTK_EDITABLE (entry);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  add_control (grid, place, _(descriptions[id].label), entry);
  if (id == ENTRY_RATE)
    g_signal_connect_swapped (entry, "changed", G_CALLBACK (rate_changed_cb), self);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (update), self);
}

static GtkWidget *
make_grid (TptRigPanel *self)
{
  GtkWidget *grid = gtk_grid_new ();
  int place = 0;

  gtk_grid_set_column_spacing (GTK_GRID (grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  self->sensor = GTK_DROP_DOWN (add_control (grid, place++, _("Size of the sensor"), make_sensor (self)));
  for (EntryId id = 0; id < N_ENTRIES; id++)
    {
      if (id == ENTRY_FLASHES)
        self->power = GTK_DROP_DOWN (add_control (grid, place++, _("Power of the flash"), make_power (self)));
      add_entry (self, grid, place++, id);
    }
  return grid;
}

static void
add_words (TptRigPanel *self, GtkWidget *box)
{
  for (guint i = 0; i < N_SAY; i++)
    {
      GtkWidget *label = gtk_label_new (NULL);

      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_label_set_selectable (GTK_LABEL (label), TRUE);
      gtk_widget_set_can_focus (label, FALSE);
      gtk_box_append (GTK_BOX (box), label);
      self->words[i] = GTK_LABEL (label);
    }
}

static void
add_caution (GtkWidget *box)
{
  GtkWidget *label = gtk_label_new (_("Check a flash by its display and a test picture, never by opening it: its capacitor holds a charge "
                                      "that can kill long after it is switched off. Do not fire it close to the eyes of people or "
                                      "animals. The maker’s tables and licensed practice come first."));

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "caution");
  gtk_box_append (GTK_BOX (box), label);
}

static void
tpt_rig_panel_dispose (GObject *object)
{
  TptRigPanel *self = TPT_RIG_PANEL (object);
  GtkWidget *child;

  self->filling++; /* what goes away has nothing to say */
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&self->deployment);
  g_clear_pointer (&self->units, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_rig_panel_parent_class)->dispose (object);
}

static void
tpt_rig_panel_class_init (TptRigPanelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_rig_panel_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_rig_panel_init (TptRigPanel *self)
{
  GtkWidget *expander = gtk_expander_new_with_mnemonic (_("Check the _picture and the power"));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->filling++;
  gtk_widget_set_margin_top (box, 12);
  gtk_box_append (GTK_BOX (box), make_grid (self));
  add_words (self, box);
  add_caution (box);
  gtk_expander_set_child (GTK_EXPANDER (expander), box);
  gtk_widget_set_parent (expander, GTK_WIDGET (self));
  set_number (self, ENTRY_FLASHES, 1, 0);
  set_number (self, ENTRY_NIGHT, 50, 0);
  self->filling--;
  update (self);
}

TptRigPanel *
tpt_rig_panel_new (void)
{
  return g_object_new (TPT_TYPE_RIG_PANEL, NULL);
}

void
tpt_rig_panel_set_deployment (TptRigPanel *self, TptRecord *deployment)
{
  g_set_object (&self->deployment, deployment);
  update (self);
}

static void
follow_flashes (TptRigPanel *self)
{
  guint n = 0;
  double power = NAN;

  for (guint i = 0; i < self->units->len; i++)
    if (g_strcmp0 (tpt_record_get_text (self->units->pdata[i], "kind"), "flash") == 0)
      {
        power = n == 0 ? tpt_record_get_real (self->units->pdata[i], "power_fraction") : power;
        n++;
      }
  self->filling++;
  if (n > 0)
    set_number (self, ENTRY_FLASHES, MIN (n, MAX_FLASHES), 0);
  if (power > 0)
    gtk_drop_down_set_selected (self->power, (guint) CLAMP (lround (-log2 (power)), 0, MAX_STOPS));
  self->filling--;
}

static gboolean
is_same (GPtrArray *a, GPtrArray *b)
{
  gboolean same = a != NULL && a->len == b->len;

  for (guint i = 0; same && i < a->len; i++)
    same = a->pdata[i] == b->pdata[i];
  return same;
}

/* What was typed of the flashes stays until other units are chosen. */
void
tpt_rig_panel_set_units (TptRigPanel *self, GPtrArray *units)
{
  if (is_same (self->units, units))
    return;
  g_clear_pointer (&self->units, g_ptr_array_unref);
  self->units = g_ptr_array_ref (units);
  follow_flashes (self);
  update (self);
}

void
tpt_rig_panel_suggest_rate (TptRigPanel *self, double triggers_per_day)
{
  if (self->rate_typed || !(triggers_per_day > 0))
    return;
  set_number (self, ENTRY_RATE, triggers_per_day, triggers_per_day < 1 ? 3 : 1);
  update (self);
}
