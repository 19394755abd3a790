export { ChangePowerUnitForm, NewPowerUnitForm } from './components/power-unit-form';
